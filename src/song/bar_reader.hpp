#pragma once

#include "song/mark.hpp"
#include "song/song.hpp"

#include <span>

namespace landfall::song {

/// Reads a chord symbol, a Roman numeral or a Nashville number, told apart by how it begins:
/// capitals A to G are chords; digits, I, V, i and v, and flats and sharps before them, are degrees
/// of the key. An error's column counts from the symbol's start.
Result<theory::Chord> read_symbol(std::string_view text, theory::Key key);

/// Whether read_symbol takes the text for a degree of the key.
bool is_numeral(std::string_view text);

/// What can stand around a bar.
struct BarSurroundings {
  Context context;
  const ChartBar* before = nullptr; ///< In the same section, for `%`.
  bool pickup = false;              ///< A bar that lacks beats begins late instead of lasting on.
};

/// Lays the marks between two bar lines out over the beats of a bar. `marks` is not empty.
ChartBar read_bar(std::span<const Mark> marks, const BarSurroundings& around, Reporter& reporter);

} // namespace landfall::song
