#pragma once

#include "song/meter.hpp"

#include <vector>

namespace landfall::song {

/// Where the second of two equal notes falls.
struct Swing {
  int share = 500;         ///< Of the pair, in thousandths: 500 is straight, 667 a triplet.
  bool sixteenths = false; ///< Pairs of sixteenths; else of eighths.

  bool operator==(const Swing&) const = default;
};

/// What the foot taps, as patterns are laid on it.
struct Pulse {
  Ticks start; ///< From the bar's start.
  Ticks length;
  bool ternary = false; ///< Three units long: a dotted note.

  bool operator==(const Pulse&) const = default;
};

/// The pulses of a bar: 4/4 has four, 2/2 four quarters, 12/8 four dotted ones, 7/8 is 2 + 2 + 3.
std::vector<Pulse> pulses(song::Meter meter);

/// Where cell `cell` of `cells` in a beat falls from the pulse's start. Pairs swing where the cells
/// are binary and the pulse is too; on a dotted pulse binary cells take the triplet's places.
Ticks cell_offset(const Pulse& pulse, int cell, int cells, const Swing& swing, bool compound_feel);

} // namespace landfall::song
