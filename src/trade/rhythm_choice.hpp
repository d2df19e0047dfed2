#pragma once

#include "trade/rhythm_cells.hpp"

namespace landfall::trade {

/// One or two beats that are filled by one cell.
struct BeatGroup {
  int first = 0; ///< Of the turn's beats.
  int beats = 1;
  bool ternary = false;
  int bar = 0;
  int slot = 0; ///< Which group of its bar.

  int end() const { return first + beats; }
};

/// The turn's beats in groups: pairs, with a single one where a bar is odd, and single ternary
/// ones.
std::vector<BeatGroup> beat_groups(std::span<const TurnBeat> beats, const Groove& groove);

/// Where a character of a cell falls, from its beat's start.
Ticks offset_in(const TurnBeat& beat, int character, int characters, const Groove& groove);

/// The least distance between onsets at the tempo.
Ticks least_gap(const Density& density, Tempo tempo);

/// Any cell for a group, as probable as it suits the density, the feel and the tempo; nullptr where
/// none does. It has at least one onset.
const Cell* any_cell(const BeatGroup& group, const RhythmRequest& request, Chance& chance);

} // namespace landfall::trade
