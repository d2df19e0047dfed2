#pragma once

#include "neck/fingering.hpp"
#include "neck/tones.hpp"

#include <span>

namespace landfall::neck {

/// One of the five open-chord forms of guitar teaching, as it stands in its own key.
struct ShapeForm {
  char name = 'E';
  int root = 4;                        ///< Its pitch class when open in standard tuning.
  int box = 2;                         ///< Its box is [nut, nut + box].
  std::array<std::int8_t, 6> frets{};  ///< Relative to the nut, low string first.
  std::array<std::int8_t, 6> degree{}; ///< 1, 3 or 5; 0 where muted.
};

/// C A G E D, in this order.
std::span<const ShapeForm> shape_forms();

/// The form of this name (upper case); nullptr if there is none.
const ShapeForm* find_shape(char name);

/// A shape moved up so that its nut lies at a fret.
struct ChordShape {
  char name = 'E';
  int nut = 0;

  bool operator==(const ChordShape&) const = default;
};

/// The lowest fret at or above 0 at which the form's root is `root`.
/// The board's shapes must have a meaning (shape_offset).
int lowest_nut(const Fretboard& board, const ShapeForm& form, int root);

/// The grip of a chord in a shape: its third and fifth moved from the form's, a doubled root or a
/// fifth given up for a seventh and extensions, tones behind the nut muted; of what a hand can take
/// the most tones of the chord, then the most strings, top strings first.
FretRow shape_grip(const Fretboard& board, ChordShape shape, const ChordTones& chord);

} // namespace landfall::neck
