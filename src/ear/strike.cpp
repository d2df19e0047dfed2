#include "ear/strike.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr double together_ms = 40.0;
constexpr double median_ms = 60.0;
constexpr double near_cents = 35.0;

/// The cents that a note has for the longest half of [from, to): its median over time.
double median_cents(const HeardNote& note, Ticks from, Ticks to) {
  std::vector<std::pair<double, std::int64_t>> parts;
  double cents = 0.0;
  Ticks at = from;
  for (const auto& bend : note.bends) {
    if (bend.at >= to)
      break;
    if (bend.at > at)
      parts.emplace_back(cents, (bend.at - at).count);
    at = std::max(at, bend.at);
    cents = bend.cents;
  }
  parts.emplace_back(cents, std::max<std::int64_t>((to - at).count, 1));
  std::sort(parts.begin(), parts.end());
  std::int64_t whole = 0, sum = 0;
  for (const auto& part : parts)
    whole += part.second;
  for (const auto& part : parts)
    if ((sum += part.second) * 2 >= whole)
      return part.first;
  return cents;
}

Pitch pitch_at(const HeardNote& note, std::size_t index, Ticks at, Tempo tempo) {
  auto to = at + ticks_of_ms(median_ms, tempo);
  if (note.silent)
    to = std::max(at + Ticks{1}, std::min(to, *note.silent));
  const double cents = note.bends.empty() ? 0.0 : median_cents(note, at, to);
  Pitch pitch;
  pitch.at = at;
  pitch.note = index;
  pitch.onset = at == note.on;
  const double rounded = std::round(cents / 100.0);
  pitch.midi = std::clamp(note.midi + static_cast<int>(rounded), 0, 127);
  pitch.cents = cents - rounded * 100.0;
  pitch.settled = std::abs(pitch.cents) <= near_cents;
  return pitch;
}

bool is_ghost(const HeardNote& note, const Settings& settings, Tempo tempo) {
  return note.off && note.velocity < settings.ghost_velocity &&
         *note.off - note.on < ticks_of_ms(settings.shortest_ms, tempo);
}

} // namespace

Ticks ticks_of_ms(double ms, Tempo tempo) {
  return ticks_in(Nanoseconds{std::llround(ms * 1e6)}, tempo);
}

std::vector<Pitch> pitches_of(const HeardNote& note, std::size_t index, Tempo tempo) {
  std::vector<Pitch> pitches{pitch_at(note, index, note.on, tempo)};
  Ticks until = note.on;
  for (const auto& bend : note.bends) {
    if (bend.at <= until)
      continue;
    const auto pitch = pitch_at(note, index, bend.at, tempo);
    const auto& last = pitches.back();
    if (pitch.settled && (pitch.midi != last.midi || !last.settled)) {
      pitches.push_back(pitch);
      until = bend.at + ticks_of_ms(median_ms / 2, tempo);
    }
  }
  return pitches;
}

std::vector<Strike> strikes_of(const Ground& ground, std::span<const HeardNote> notes,
                               const Settings& settings) {
  std::vector<Pitch> all;
  for (std::size_t index = 0; index < notes.size(); ++index) {
    const auto& note = notes[index];
    const auto tempo = ground.tempo.tempo_at(note.on);
    if ((settings.split && note.midi < *settings.split) || is_ghost(note, settings, tempo))
      continue;
    const auto pitches = pitches_of(note, index, tempo);
    all.insert(all.end(), pitches.begin(), pitches.end());
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Pitch& a, const Pitch& b) { return a.at < b.at; });
  std::vector<Strike> strikes;
  for (const auto& pitch : all) {
    const auto near = ticks_of_ms(together_ms, ground.tempo.tempo_at(pitch.at));
    if (strikes.empty() || pitch.at - strikes.back().at > near)
      strikes.push_back({pitch.at, {}});
    strikes.back().pitches.push_back(pitch);
  }
  return strikes;
}

} // namespace landfall::ear
