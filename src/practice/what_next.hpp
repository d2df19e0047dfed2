#pragma once

#include "practice/history.hpp"
#include "song/meter.hpp"

#include <cstdint>

namespace landfall::practice {

/// A song that may be proposed.
struct SongOffer {
  std::string name; ///< As songs are loaded by.
  bool minor = false;
  Tempo tempo;
  song::Meter meter;
  std::string title = {}; ///< What players call it; empty for its name.
};

/// What there is to propose from.
struct Offers {
  std::vector<SongOffer> songs;
  std::vector<std::string> places; ///< As Cell::place, the usual one first; at least one.
  Cell first;                      ///< Where someone begins who has no history.
  theory::Over first_over = theory::Over::chord;
};

struct Proposal {
  Cell cell;
  theory::Over over = theory::Over::chord;
  std::string song; ///< Empty where there is none.
  Tempo tempo;
  std::string why; ///< One line: `landed 4 of 17 so far`.
};

// The rule of what_next, in full.
//
// 1. Each cell that was practised has a *rate*, CellHistory::recent_rate, and is *due* after
//    1 + 6 x rate² days: a weak one the next day, one that always lands after a week.
// 2. Its need is (1.05 - rate) x min(1.5, days since / days until due), so that what is weak, and
//    what has rested, comes first; a cell of fewer than 12 changes counts as not better than half.
// 3. A cell that has rested for more than 8 days comes before all others, the longest rest first:
//    nothing is forgotten.
// 4. Mixing: for each proposal before it that is in the same key, and again for the same place, the
//    need counts 0.75; the seed adds or takes up to a tenth. A cell is proposed once.
// 5. Growing: where no practised cell is below 0.6, or there are too few of them, the last
// proposals
//    are cells next to the best one: its next place, or a fourth up, in turn.
// 6. The song is one in the cell's mode, drawn by the seed, not the cell's last one if there is
//    another; for a cell that is new, hardly tried or below 0.4 one of at most 110 beats a minute,
//    if there is one. The tempo is the song's own, times 0.85 for such a cell, times 1.1 from 0.85
//    on.

/// The next few things to practise, most needed first. Pure: the same arguments give the same
/// answer.
std::vector<Proposal> what_next(const History& history, Instant now, std::uint64_t seed,
                                const Offers& offers, std::size_t count = 4);

} // namespace landfall::practice
