#pragma once

#include "trade/rhythm.hpp"

#include <string_view>

namespace landfall::trade {

/// A rhythmic cell of one or two beats: `x` begins a note, `-` holds it, `.` is silent; a beat's
/// characters share it evenly, `|` parts two beats. A beat of one character is one value.
struct Cell {
  std::string_view text;
  double weight = 1.0; ///< How often it is taken, all else equal.
  bool off = false;    ///< Leaves the beat.

  int beats() const;
  int onsets() const;
  /// The most characters in a beat: 1, 2, 3, 4 or 6.
  int fineness() const;
  /// The characters of beat `index`.
  std::string_view beat(int index) const;
};

/// Cells for two beats, for one, and for one beat of three eighths.
std::span<const Cell> pair_cells();
std::span<const Cell> single_cells();
std::span<const Cell> ternary_cells();

} // namespace landfall::trade
