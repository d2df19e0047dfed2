#include "practice/moves.hpp"

#include <algorithm>

namespace landfall::practice {

theory::Key next_key(const KeyMoves& moves, theory::Key present) {
  if (moves.keys.empty())
    return transposed(present, moves.half_steps);
  const auto here = std::find_if(moves.keys.begin(), moves.keys.end(), [&](theory::Key key) {
    return pitch_class(key.tonic) == pitch_class(present.tonic);
  });
  const bool last = here == moves.keys.end() || std::next(here) == moves.keys.end();
  return {(last ? moves.keys.front() : *std::next(here)).tonic, present.minor};
}

Tempo tempo_after(const TempoMoves& moves, int choruses) {
  if (choruses >= moves.choruses)
    return moves.to;
  const double share = static_cast<double>(choruses) / moves.choruses;
  return tempo_from_bpm(bpm(moves.from) + share * (bpm(moves.to) - bpm(moves.from)));
}

} // namespace landfall::practice
