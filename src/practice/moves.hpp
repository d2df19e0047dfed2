#pragma once

#include "neck/position.hpp"
#include "time/tempo.hpp"

#include <memory>
#include <vector>

namespace landfall::practice {

/// The key moves by itself at the top of every so many choruses.
struct KeyMoves {
  int every = 0;                 ///< Choruses; 0: it stays.
  int half_steps = 0;            ///< By so much up, where `keys` is empty.
  std::vector<theory::Key> keys; ///< Else to the one after the present in this list, round and
                                 ///< round; from a key outside it to the first. Each once.
  std::shared_ptr<const neck::Instrument> instrument; ///< On which the hand stays; may be null.

  bool operator==(const KeyMoves&) const = default;
};

/// The key after `present`; stays minor or major as `present` is.
theory::Key next_key(const KeyMoves& moves, theory::Key present);

/// The tempo goes from one to another, a step at the top of each chorus.
struct TempoMoves {
  Tempo from;
  Tempo to;
  int choruses = 0; ///< After how many `to` is reached; 0: the tempo stays.

  bool operator==(const TempoMoves&) const = default;
};

/// The tempo after so many choruses: equal steps in beats a minute, then `to`. Above 0 choruses.
Tempo tempo_after(const TempoMoves& moves, int choruses);

} // namespace landfall::practice
