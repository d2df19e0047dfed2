#pragma once

#include "neck/fingering.hpp"

#include <string>
#include <vector>

namespace landfall::neck {

/// A way to hold a chord.
struct Grip {
  std::string name;                      ///< The chord's symbol and what the grip is, for people.
  std::vector<std::optional<int>> frets; ///< Low string first; none where muted. Keyboard: MIDI.
  std::vector<int> finger;               ///< Of each string, 1 to 4; 0 for none.
  std::vector<Barre> barres;             ///< String indices, low string first.
  int fingers = 0;                       ///< How many are used, a barre counted as one.
  double cost = 0.0;                     ///< Rises with difficulty; for comparison only.
};

} // namespace landfall::neck
