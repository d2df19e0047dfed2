#pragma once

#include "band/feel.hpp"

#include <vector>

namespace landfall::band {

/// What the foot taps, as patterns are laid on it.
struct Pulse {
  Ticks start; ///< From the bar's start.
  Ticks length;
  bool ternary = false; ///< Three units long: a dotted note.

  bool operator==(const Pulse&) const = default;
};

/// The pulses of a bar: 4/4 has four, 2/2 four quarters, 12/8 four dotted ones, 7/8 is 2 + 2 + 3.
std::vector<Pulse> pulses(song::Meter meter);

/// For each of `wanted` pulses, which of a pattern's `written` beats is played there, from 0. The
/// first is the first and the last the last, so that bars open and lead on as they should.
std::vector<int> beats_for(int written, int wanted);

/// Where cell `cell` of `cells` in a beat falls from the pulse's start. Pairs swing where the cells
/// are binary and the pulse is too; on a dotted pulse binary cells take the triplet's places.
Ticks cell_offset(const Pulse& pulse, int cell, int cells, const Swing& swing, bool compound_feel);

} // namespace landfall::band
