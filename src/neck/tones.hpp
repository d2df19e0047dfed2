#pragma once

#include "neck/fretboard.hpp"
#include "theory/note_set.hpp"

#include <vector>

namespace landfall::neck {

/// The pitch classes of spelled notes.
PitchClasses pitch_classes(const std::vector<theory::Note>& notes);

/// The pitch classes of a chord's tones; its bass does not count.
PitchClasses pitch_classes(const theory::Chord& chord);

/// The pitch classes of a key's scale.
PitchClasses pitch_classes(theory::Key key);

/// A chord by what its tones do, in half steps above the root; -1 where the chord has none.
struct ChordTones {
  explicit ChordTones(const theory::Chord& chord);

  int root = 0;   ///< Pitch class.
  int third = -1; ///< Or the fourth or second that stands for it.
  int fifth = -1;
  int seventh = -1;                ///< Or the sixth of a sixth chord.
  std::array<int, 4> extensions{}; ///< Ninth, eleventh, thirteenth, in the symbol's order.
  int extension_count = 0;
  bool plain_fifth = true; ///< A perfect fifth, which a grip can do without.
  PitchClasses all = 0;    ///< Absolute.
};

} // namespace landfall::neck
