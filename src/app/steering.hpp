#pragma once

#include "midi/clock_follower.hpp"
#include "practice/session.hpp"

#include <optional>

namespace landfall::app {

/// Keeps the band with a clock that comes in: bends a beat so that its end falls where the clock
/// will have it, and no longer than that. Before the clock is certain, sixteenth by sixteenth, and
/// as much as it takes; then with restraint, so that jitter is not followed. Pure; asked again and
/// again, some milliseconds apart.
class Steering {
public:
  struct Bend {
    Ticks from, to;
    Tempo tempo; ///< Between these,
    Tempo after; ///< and from there on, until the next one.
  };

  /// A performance that begins or goes on at `at`.
  void begin(Ticks at) { done_ = at; }

  /// What is to be bent at `now`, if anything. `transport` is the timeline's, `soonest` the first
  /// tick that can still be changed, `clock_to_us` our tick less the clock's.
  std::optional<Bend> bend(const midi::ClockReading& reading, const practice::Timeline& timeline,
                           const Transport& transport, Ticks soonest, Ticks clock_to_us,
                           TimePoint now);

private:
  Ticks done_; ///< Up to and with this all is decided.
};

} // namespace landfall::app
