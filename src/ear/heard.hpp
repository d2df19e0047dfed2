#pragma once

#include "ear/event.hpp"

#include <vector>

namespace landfall::ear {

/// Where a note's pitch stands from a tick on, in cents from its MIDI note.
struct BendPoint {
  Ticks at;
  double cents = 0.0;

  bool operator==(const BendPoint&) const = default;
};

/// A note as the ear heard it.
struct HeardNote {
  Ticks on;
  std::optional<Ticks> off;    ///< The finger lifted; none while it is down.
  std::optional<Ticks> silent; ///< Where it stopped ringing, pedal included.
  int channel = 0;
  int midi = 60;
  int velocity = 64;
  std::optional<int> string;    ///< 1 is the highest.
  bool slurred = false;         ///< Its string still sounded: hammered on, pulled off or slid to.
  std::vector<BendPoint> bends; ///< Rising; the first, if any, at `on` or before anything else.

  bool operator==(const HeardNote&) const = default;
};

} // namespace landfall::ear
