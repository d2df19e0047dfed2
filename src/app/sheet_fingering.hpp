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

/// A stop for each note of the phrase, in its order: its own where it has one that sounds as it
/// should on this instrument, else under one hand, the one of `hand` (its first finger's fret) or
/// else the one that has to reach least, near `home`. Notes that begin together lie on different
/// strings where that can be. The error is one line: a note that the instrument does not have.
Result<std::vector<Stop>, std::string> stops_of(const trade::Phrase& phrase,
                                                const neck::Fretboard& board,
                                                std::optional<int> hand, int home);

} // namespace landfall::app::sheet
