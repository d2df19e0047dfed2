#pragma once

#include <chrono>
#include <compare>
#include <cstdint>

/// Musical time and clock time, and the exact way between them.
namespace landfall {

/// Ticks in a quarter note, as in the MIDI files we write.
inline constexpr std::int64_t ticks_per_quarter = 960;

/// A place or a distance in musical time. Never a double: equal music is equal ticks.
struct Ticks {
  std::int64_t count = 0;

  constexpr auto operator<=>(const Ticks&) const = default;
  constexpr Ticks& operator+=(Ticks other) { return count += other.count, *this; }
  constexpr Ticks& operator-=(Ticks other) { return count -= other.count, *this; }
};

constexpr Ticks operator+(Ticks a, Ticks b) {
  return {a.count + b.count};
}
constexpr Ticks operator-(Ticks a, Ticks b) {
  return {a.count - b.count};
}
constexpr Ticks operator-(Ticks a) {
  return {-a.count};
}
constexpr Ticks operator*(Ticks a, std::int64_t n) {
  return {a.count * n};
}
constexpr Ticks operator*(std::int64_t n, Ticks a) {
  return a * n;
}
constexpr Ticks operator/(Ticks a, std::int64_t n) {
  return {a.count / n};
}

/// How many whole `unit`s lie at or below `a`; right for negative `a` too. `unit` is above 0.
constexpr std::int64_t floor_div(Ticks a, Ticks unit) {
  const auto quotient = a.count / unit.count;
  return quotient - ((a.count % unit.count) < 0 ? 1 : 0);
}

/// What is left of `a` above the last whole `unit`, in [0, unit). `unit` is above 0.
constexpr Ticks floor_mod(Ticks a, Ticks unit) {
  return a - unit * floor_div(a, unit);
}

inline constexpr Ticks quarter{ticks_per_quarter};
inline constexpr Ticks eighth = quarter / 2;
inline constexpr Ticks sixteenth = quarter / 4;

/// The one clock of the program. The core never reads it; it is handed times.
using Clock = std::chrono::steady_clock;
using TimePoint = std::chrono::time_point<Clock, std::chrono::nanoseconds>;
using Nanoseconds = std::chrono::nanoseconds;

} // namespace landfall
