#pragma once

#include "song/performance.hpp"

#include <optional>

namespace landfall::trade {

/// How a trade is divided: so many bars of call, then so many of answer, and again.
struct Division {
  int call_bars = 2;          ///< 1 to 8.
  int answer_bars = 2;        ///< 1 to 8.
  bool player_begins = false; ///< The first turn has no call: the player plays alone.

  constexpr bool operator==(const Division&) const = default;
};

/// A call and its answer, in performance ticks. The band plays through both.
struct Turn {
  int number = 0; ///< From 0.
  Ticks call;     ///< The call's first bar line.
  Ticks answer;   ///< The answer's; the call's own where there is no call.
  Ticks end;      ///< Where the next turn begins.
  Ticks beat;     ///< Of the answer's first bar.

  bool has_call() const { return call < answer; }
  /// From here on what is played belongs to the answer: a beat early, for pick-ups.
  Ticks opens() const { return answer - beat; }
  constexpr bool operator==(const Turn&) const = default;
};

/// The turn that begins with the first bar line at or after `from`. None where the performance is
/// not laid out that far: it was, or will be, longer.
std::optional<Turn> turn_from(const song::Performance& performance, Ticks from, int number,
                              const Division& division);

/// The bar line that is `bars` whole bars after the bar line `from`; none beyond what is laid out.
std::optional<Ticks> bars_later(const song::Performance& performance, Ticks from, int bars);

} // namespace landfall::trade
