#pragma once

#include "theory/key.hpp"

#include <string_view>

namespace landfall::song {

/// Reads a chord symbol, a Roman numeral or a Nashville number, told apart by how it begins:
/// capitals A to G are chords; digits, I, V, i and v, and flats and sharps before them, are degrees
/// of the key. An error's column counts from the symbol's start.
Result<theory::Chord> read_symbol(std::string_view text, theory::Key key);

/// Whether read_symbol takes the text for a degree of the key.
bool is_numeral(std::string_view text);

} // namespace landfall::song
