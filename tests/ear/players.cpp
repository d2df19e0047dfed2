#include "ear/players.hpp"

#include "ear/sounding.hpp"
#include "neck/tones.hpp"

#include <algorithm>

namespace landfall::test {
namespace {

using Random = std::mt19937;

int between(Random& random, int low, int high) {
  return std::uniform_int_distribution<int>(low, high)(random);
}

std::vector<int> pitches_of(neck::PitchClasses classes) {
  std::vector<int> pitches;
  for (int midi = 55; midi < 79; ++midi)
    if (neck::has(classes, midi))
      pitches.push_back(midi);
  return pitches;
}

int any_of(Random& random, const std::vector<int>& pitches) {
  return pitches[static_cast<std::size_t>(
      between(random, 0, static_cast<int>(pitches.size()) - 1))];
}

void strike(std::vector<ear::Event>& events, Ticks at, int midi, Ticks length) {
  events.push_back(ear::NoteOn{at, 0, midi, 90, std::nullopt});
  events.push_back(ear::NoteOff{at + length, 0, midi});
}

Ticks end_of(const ear::Ground& ground) {
  return ground.spans.back().to;
}

} // namespace

std::vector<ear::Event> aimless(const ear::Ground& ground, theory::Key key, Ticks step,
                                unsigned seed) {
  Random random(seed);
  const auto scale = pitches_of(neck::pitch_classes(key));
  std::vector<ear::Event> events;
  for (Ticks at; at < end_of(ground); at += step)
    strike(events, at, any_of(random, scale), step * 9 / 10);
  return events;
}

std::vector<ear::Event> perfect(const ear::Ground& ground, theory::Key key, unsigned seed) {
  Random random(seed);
  const auto scale = pitches_of(neck::pitch_classes(key));
  std::vector<ear::Event> events;
  std::size_t change = 0;
  for (Ticks at; at < end_of(ground); at += eighth) {
    const bool lands = change < ground.changes.size() && ground.changes[change].at == at;
    const auto tones =
        lands ? ground.spans[ground.changes[change++].span].aimed : neck::PitchClasses{};
    const auto off = ear::ticks_of_ms(between(random, 0, 25), ground.tempo.tempo_at(at));
    const auto moved = at > Ticks{} && between(random, 0, 1) == 0 ? at - off : at + off;
    strike(events, moved, any_of(random, lands ? pitches_of(tones) : scale), eighth * 2 / 3);
  }
  return events;
}

std::vector<ear::Event> wild(Ticks end, unsigned seed) {
  Random random(seed);
  std::vector<ear::Event> events;
  for (Ticks at = -quarter; at < end; at += Ticks{between(random, 0, 400)}) {
    const bool strings = between(random, 0, 3) == 0;
    const int channel = strings ? between(random, 1, 6) : 0;
    const int midi = between(random, 50, 76);
    const auto length = Ticks{between(random, 0, between(random, 1, 5000))};
    switch (between(random, 0, 9)) {
    case 0:
      events.push_back(ear::NoteOff{at, channel, midi});
      break;
    case 1:
      events.push_back(ear::Pedal{at, std::nullopt, between(random, 0, 1) == 0});
      break;
    case 2:
    case 3:
      for (int i = 0; i < between(random, 1, 30); ++i)
        events.push_back(ear::Bend{at + Ticks{i * 11}, channel,
                                   static_cast<double>(between(random, -250, 250))});
      break;
    default:
      events.push_back(ear::NoteOn{at, channel, midi, between(random, 1, 127),
                                   strings ? std::optional(channel) : std::nullopt});
      if (between(random, 0, 9) > 0)
        events.push_back(ear::NoteOff{at + length, channel, midi});
    }
  }
  const auto at = [](const ear::Event& event) {
    return std::visit([](const auto& each) { return each.at; }, event);
  };
  std::stable_sort(events.begin(), events.end(),
                   [&](const auto& a, const auto& b) { return at(a) < at(b); });
  return events;
}

} // namespace landfall::test
