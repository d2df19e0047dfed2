#pragma once

#include "time/ticks.hpp"

namespace landfall::song {

/// A time signature: 4/4, 6/8.
struct Meter {
  int beats = 4; ///< The upper number, 1 to 16.
  int unit = 4;  ///< The lower number: 2, 4, 8 or 16.

  constexpr bool operator==(const Meter&) const = default;
};

constexpr Ticks unit_length(Meter meter) {
  return {4 * ticks_per_quarter / meter.unit};
}
constexpr Ticks bar_length(Meter meter) {
  return unit_length(meter) * meter.beats;
}

/// 6/8, 9/8, 12/8: felt in dotted quarters.
constexpr bool compound(Meter meter) {
  return meter.unit >= 8 && meter.beats > 3 && meter.beats % 3 == 0;
}

/// What the foot taps: the dotted quarter in compound metre, else the lower number's note.
constexpr Ticks beat_length(Meter meter) {
  return unit_length(meter) * (compound(meter) ? 3 : 1);
}

constexpr int beats_in_bar(Meter meter) {
  return static_cast<int>(bar_length(meter).count / beat_length(meter).count);
}

} // namespace landfall::song
