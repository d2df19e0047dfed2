#pragma once

#include "time/ticks.hpp"

#include <cmath>

namespace landfall {

/// Tempo as MIDI files store it: whole microseconds a quarter note.
struct Tempo {
  std::int64_t micros_per_quarter = 500'000;

  constexpr auto operator<=>(const Tempo&) const = default;
};

inline constexpr double min_bpm = 20.0;
inline constexpr double max_bpm = 400.0;

/// Nearest tempo for quarter notes a minute; `bpm` is clamped to [min_bpm, max_bpm].
inline Tempo tempo_from_bpm(double bpm) {
  const double clamped = bpm < min_bpm ? min_bpm : (bpm > max_bpm ? max_bpm : bpm);
  return {std::llround(60'000'000.0 / clamped)};
}

constexpr double bpm(Tempo tempo) {
  return 60'000'000.0 / static_cast<double>(tempo.micros_per_quarter);
}

/// Clock time that `ticks` take at `tempo`, rounded to the nearest nanosecond.
/// Exact for every distance below 10^10 ticks.
constexpr Nanoseconds duration_of(Ticks ticks, Tempo tempo) {
  // 1000 ns a microsecond / 960 ticks a quarter = 25/24
  const std::int64_t numerator = ticks.count * tempo.micros_per_quarter * 25;
  const std::int64_t half = numerator < 0 ? -12 : 12;
  return Nanoseconds{(numerator + half) / 24};
}

/// Whole ticks nearest to `time` at `tempo`: the inverse of `duration_of`.
constexpr Ticks ticks_in(Nanoseconds time, Tempo tempo) {
  const std::int64_t denominator = tempo.micros_per_quarter * 25;
  const std::int64_t numerator = time.count() * 24;
  const std::int64_t half = numerator < 0 ? -denominator / 2 : denominator / 2;
  return {(numerator + half) / denominator};
}

/// Ticks with their fraction, for drawing only.
inline double exact_ticks_in(Nanoseconds time, Tempo tempo) {
  return static_cast<double>(time.count()) * 24.0 /
         (static_cast<double>(tempo.micros_per_quarter) * 25.0);
}

} // namespace landfall
