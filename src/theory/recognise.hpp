#pragma once

#include "theory/key.hpp"

#include <span>
#include <vector>

namespace landfall::theory {

/// The chords that sounding notes can be, best first, spelled in the key; empty for fewer than two
/// pitch classes.
///
/// Each root and each usual symbol is held against the notes. It costs most to have a note too many
/// or too few; a perfect fifth may be missing from a seventh chord for little. Then it costs that
/// the root is not the lowest note, which is written as a slash bass; then that the root is no
/// degree of the key; then that the symbol is an unusual one.
std::vector<Chord> recognised_chords(std::span<const MidiNote> notes, Key key);

} // namespace landfall::theory
