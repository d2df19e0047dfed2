#pragma once

#include <string>

namespace landfall::render {

/// A chord symbol in the parts that are set in different sizes.
struct ChordText {
  std::string root;    ///< A letter A to G or a numeral; empty for no chord at all.
  int accidental = 0;  ///< Of the root: -2 to 2.
  std::string quality; ///< All that follows the root but the bass: `m7♭5`, `Δ`, `7sus4`.
  std::string bass;    ///< A letter, or empty.
  int bass_accidental = 0;
  bool none = false; ///< N.C.; the rest is ignored.

  bool operator==(const ChordText&) const = default;
};

} // namespace landfall::render
