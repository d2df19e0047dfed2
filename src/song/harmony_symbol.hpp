#pragma once

#include "theory/chord.hpp"

#include <string>
#include <vector>

namespace landfall::song {

/// A `harmony` of MusicXML, taken apart.
struct HarmonyElement {
  struct Degree {
    int value = 9;
    int alter = 0;
    std::string type; ///< add, alter, subtract
  };

  char root = 'C';
  int root_alter = 0;
  std::string kind = "major"; ///< Of the standard's list.
  std::string kind_text;      ///< How the score writes it; may be empty.
  char bass = 0;              ///< 0: none.
  int bass_alter = 0;
  std::vector<Degree> degrees;
};

/// The symbol that parse_chord reads; `N.C.` for no chord. `problem` is one line about what could
/// not be taken over, else empty.
std::string harmony_symbol(const HarmonyElement& harmony, std::string& problem);

/// The inverse: a kind of the standard's list with degrees where they make the same chord again,
/// else kind `other` with the symbol's own text.
HarmonyElement harmony_of(const theory::Chord& chord);

} // namespace landfall::song
