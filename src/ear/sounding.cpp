#include "ear/sounding.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace landfall::ear {
namespace {

constexpr double median_ms = 60.0;
constexpr double whole_ms = 300.0;
constexpr double near_cents = 35.0;
constexpr double most_shaken = 50.0; ///< By vibrato, either way.

/// The bends of a note from `at` on; what stands there is in `before`.
auto bends_from(const HeardNote& note, Ticks at, double& before) {
  const auto after = std::ranges::upper_bound(note.bends, at, {}, &BendPoint::at);
  before = after == note.bends.begin() ? 0.0 : std::prev(after)->cents;
  return after;
}

/// Where the stretch that begins at `at` ends: with the note at the latest.
Ticks end_of(const HeardNote& note, Ticks at, double ms, Tempo tempo) {
  const auto to = at + ticks_of_ms(ms, tempo);
  return note.silent ? std::max(at + Ticks{1}, std::min(to, *note.silent)) : to;
}

/// The median over time of [from, to).
double median_cents(const HeardNote& note, Ticks from, Ticks to) {
  double cents = 0.0;
  auto bend = bends_from(note, from, cents);
  if (bend == note.bends.end() || bend->at >= to)
    return cents;
  std::vector<std::pair<double, std::int64_t>> parts;
  Ticks at = from;
  for (; bend != note.bends.end() && bend->at < to; ++bend) {
    parts.emplace_back(cents, (bend->at - at).count);
    at = bend->at;
    cents = bend->cents;
  }
  parts.emplace_back(cents, (to - at).count);
  std::sort(parts.begin(), parts.end());
  std::int64_t sum = 0;
  for (const auto& [value, length] : parts)
    if ((sum += length) * 2 >= (to - from).count)
      return value;
  return cents;
}

bool stays_near(const HeardNote& note, Ticks from, Ticks to, double centre) {
  double cents = 0.0;
  auto bend = bends_from(note, from, cents);
  bool near = std::abs(cents - centre) <= near_cents;
  for (; near && bend != note.bends.end() && bend->at < to; ++bend)
    near = std::abs(bend->cents - centre) <= near_cents;
  return near;
}

Pitch rounded(const HeardNote& note, double cents) {
  const double centre = std::round(cents / 100.0) * 100.0;
  Pitch pitch;
  pitch.midi = std::clamp(note.midi + static_cast<int>(centre / 100.0), 0, 127);
  pitch.cents = cents - centre;
  pitch.settled = std::abs(pitch.cents) <= near_cents;
  return pitch;
}

} // namespace

Ticks ticks_of_ms(double ms, Tempo tempo) {
  return ticks_in(Nanoseconds{std::llround(ms * 1e6)}, tempo);
}

Pitch pitch_at(const HeardNote& note, Ticks at, Tempo tempo) {
  if (note.bends.empty())
    return {note.midi, 0.0, true};
  const auto to = end_of(note, at, median_ms, tempo);
  const double middle = median_cents(note, at, to);
  auto pitch = rounded(note, middle);
  const double centre = (pitch.midi - note.midi) * 100.0;
  if (pitch.settled && stays_near(note, at, to, centre))
    return pitch;
  const auto longer = median_cents(note, at, end_of(note, at, settling_ms, tempo));
  const auto swung = rounded(note, longer);
  if (!pitch.settled && swung.settled && std::abs(longer - middle) <= most_shaken)
    return swung;
  pitch.settled = pitch.settled && std::abs(longer - centre) <= near_cents;
  return pitch;
}

std::optional<BendArrival> bend_arrival(const HeardNote& note, Ticks from, Ticks to,
                                        neck::PitchClasses tones, Tempo tempo) {
  double before = 0.0;
  auto bend = bends_from(note, from, before);
  if (bend == note.bends.end())
    return std::nullopt;
  auto last = pitch_at(note, from, tempo);
  for (; bend != note.bends.end() && bend->at <= to; ++bend) {
    const auto pitch = pitch_at(note, bend->at, tempo);
    const bool moved = pitch.midi != last.midi || !last.settled;
    const bool there = std::abs(bend->cents - (pitch.midi - note.midi) * 100.0) <= most_shaken;
    if (pitch.settled && moved && there && neck::has(tones, pitch.midi))
      return BendArrival{bend->at, pitch};
    if (there)
      last = pitch;
  }
  return std::nullopt;
}

Pitch main_pitch(const HeardNote& note, Tempo tempo) {
  const auto onset = pitch_at(note, note.on, tempo);
  if (note.bends.empty())
    return onset;
  const auto to = end_of(note, note.on, whole_ms, tempo);
  const auto whole = rounded(note, median_cents(note, note.on, to));
  return whole.settled || !onset.settled ? whole : onset;
}

int last_midi(const HeardNote& note, Ticks tick) {
  if (note.bends.empty())
    return note.midi;
  const auto end = std::min({tick, note.silent.value_or(tick), note.off.value_or(tick)});
  double cents = 0.0;
  bends_from(note, std::max(note.on, end - Ticks{1}), cents);
  return std::clamp(note.midi + static_cast<int>(std::lround(cents / 100.0)), 0, 127);
}

} // namespace landfall::ear
