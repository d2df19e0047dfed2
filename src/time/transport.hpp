#pragma once

#include "time/tempo.hpp"

namespace landfall {

/// Where musical time stands on the clock: one straight line, and from `next_tick` on another.
/// Plain data of fixed size so that it can be handed to a real-time thread through a Latest<>.
/// Performance ticks never go back: bar 1 of chorus 1 is tick 0, the count-in is negative, and
/// chorus after chorus follows without a seam.
struct Transport {
  bool rolling = false;
  Ticks anchor_tick;
  TimePoint anchor_time;
  Tempo tempo;
  /// A tempo that takes over at next_tick; none when has_next is false.
  bool has_next = false;
  Ticks next_tick;
  Tempo next_tempo;

  constexpr bool operator==(const Transport&) const = default;

  constexpr TimePoint time_at(Ticks tick) const {
    if (!has_next || tick < next_tick)
      return anchor_time + duration_of(tick - anchor_tick, tempo);
    return time_of_next() + duration_of(tick - next_tick, next_tempo);
  }

  constexpr Ticks tick_at(TimePoint time) const {
    if (!has_next || time < time_of_next())
      return anchor_tick + ticks_in(time - anchor_time, tempo);
    return next_tick + ticks_in(time - time_of_next(), next_tempo);
  }

  /// Ticks with their fraction, for drawing only.
  double exact_tick_at(TimePoint time) const {
    if (!has_next || time < time_of_next())
      return static_cast<double>(anchor_tick.count) + exact_ticks_in(time - anchor_time, tempo);
    return static_cast<double>(next_tick.count) + exact_ticks_in(time - time_of_next(), next_tempo);
  }

  constexpr Tempo tempo_at(Ticks tick) const {
    return has_next && tick >= next_tick ? next_tempo : tempo;
  }

  /// The same line, re-anchored so that `tempo` is the one in force at `now`: a passed next_tick
  /// becomes the anchor.
  constexpr Transport settled(Ticks now) const {
    if (!has_next || now < next_tick)
      return *this;
    return {rolling, next_tick, time_of_next(), next_tempo, false, {}, {}};
  }

  /// The same line with `change` taking over at `at`, in place of one that comes at or after it.
  /// `at` must not lie before the anchor. Ticks before `at` keep their places, but for those before
  /// a change that still stands between.
  constexpr Transport with_tempo(Ticks at, Tempo change) const {
    Transport result = settled(at - Ticks{1});
    result.has_next = true;
    result.next_tick = at;
    result.next_tempo = change;
    return result;
  }

private:
  constexpr TimePoint time_of_next() const {
    return anchor_time + duration_of(next_tick - anchor_tick, tempo);
  }
};

} // namespace landfall
