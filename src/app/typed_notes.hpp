#pragma once

#include "neck/fretboard.hpp"
#include "neck/position.hpp"

#include <optional>
#include <string_view>

namespace landfall::app {

/// A note played on the computer's keys.
struct TypedNote {
  int midi = 60;
  std::optional<int> string, fret; ///< None on a keyboard.
};

/// The computer's keys as an instrument. On a neck the four rows from the digits down are the four
/// highest strings (with shift, two strings lower), and their columns are the frets from the first
/// finger's reach on. On a keyboard the two lower rows are an octave from the hand's C on, sharps
/// above the naturals, and the two upper rows the next. `key` is the key's name as its layout has
/// it: `A`, `7`, `,`.
std::optional<TypedNote> typed_note(std::string_view key, bool shift,
                                    const neck::Instrument& instrument,
                                    const neck::Position& position);

} // namespace landfall::app
