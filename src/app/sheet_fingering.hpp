#pragma once

#include "neck/fretboard.hpp"
#include "theory/result.hpp"
#include "trade/phrase.hpp"

namespace landfall::app::sheet {

/// Where a note of a phrase is stopped.
struct Stop {
  int string = 1; ///< As players number them.
  int fret = 0;

  bool operator==(const Stop&) const = default;
};

/// Where a phrase lies.
struct Fingering {
  std::vector<Stop> stops; ///< Of each note, in the phrase's order.
  double cost = 0;         ///< Rises with reaches, jumps and high frets; for comparison only.
};

/// A stop for each note: its own where it has one that sounds as it should on this instrument, else
/// under one hand, the one of `hand` (its first finger's fret) or else the one that has to reach
/// least, near `home`. Notes that begin together lie on different strings where that can be. The
/// error is one line: a note that the instrument does not have.
Result<Fingering, std::string> fingering_of(const trade::Phrase& phrase,
                                            const neck::Fretboard& board, std::optional<int> hand,
                                            int home);

} // namespace landfall::app::sheet
