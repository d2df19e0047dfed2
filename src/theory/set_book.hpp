#pragma once

#include "theory/note_set.hpp"

namespace landfall::theory {

/// The player's own note sets, and which set they want over which kind of chord.
struct SetBook {
  std::vector<NoteSet> own;
  FittingTable fitting = default_fitting();

  /// An own set by name, in any case; else as parse_note_set.
  Result<NoteSet> find(std::string_view name) const;
};

/// Reads a text of lines; empty lines and lines that begin with # are left out:
///
///     set two-note sigh: 1 b3 3 5
///     over minor: dorian
///     over dominant: 1 2 3 5 b7
///
/// `over` takes major, minor, dominant, diminished, half-diminished, augmented or suspended. Errors
/// point at the line and column.
Result<SetBook> parse_set_book(std::string_view text);

} // namespace landfall::theory
