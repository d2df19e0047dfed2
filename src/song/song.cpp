#include "song/song.hpp"

namespace landfall::song {

namespace {

std::size_t played_bars(const Passage& passage) {
  std::size_t count = passage.bars.size() * static_cast<std::size_t>(passage.times);
  for (const Ending& ending : passage.endings)
    count +=
        ending.bars.size() * static_cast<std::size_t>(ending.last_pass - ending.first_pass + 1);
  return count;
}

double quarters_in_beat(Meter meter) {
  return static_cast<double>(beat_length(meter).count) / static_cast<double>(ticks_per_quarter);
}

} // namespace

std::size_t unrolled_bars(const Song& song) {
  std::vector<std::size_t> counts;
  for (const Section& section : song.sections) {
    std::size_t count = 0;
    for (const Passage& passage : section.passages)
      count += played_bars(passage);
    counts.push_back(count);
  }
  std::size_t total = 0;
  for (const int index : song.order)
    total += counts[static_cast<std::size_t>(index)];
  return total;
}

std::string usual_feel(Meter meter) {
  if (meter == Meter{3, 4})
    return "waltz";
  if (meter == Meter{5, 4})
    return "five";
  return compound(meter) ? "six-eight-ballad" : "straight-eighths";
}

Tempo tempo_from_beats(double beats_per_minute, Meter meter) {
  return tempo_from_bpm(beats_per_minute * quarters_in_beat(meter));
}

double beats_per_minute(Tempo tempo, Meter meter) {
  return bpm(tempo) / quarters_in_beat(meter);
}

} // namespace landfall::song
