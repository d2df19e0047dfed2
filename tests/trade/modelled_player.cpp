#include "trade/modelled_player.hpp"

#include <cmath>
#include <cstdlib>

namespace landfall::trade::testing {

double hardness(const Phrase& call, Tempo tempo) {
  const auto count = static_cast<double>(call.notes.size());
  if (call.notes.size() < 2)
    return 0.0;
  const auto span = call.notes.back().start - call.notes.front().start;
  const double seconds = static_cast<double>(duration_of(span, tempo).count()) / 1e9;
  double leaps = 0, outside = 0, off = 0;
  for (std::size_t i = 0; i < call.notes.size(); ++i) {
    const auto& note = call.notes[i];
    leaps += i > 0 && std::abs(note.midi - call.notes[i - 1].midi) >= 5 ? 1 : 0;
    outside += note.role == PhraseRole::approach || note.role == PhraseRole::enclosure ? 1 : 0;
    off += floor_mod(note.start, quarter).count != 0 ? 1 : 0;
  }
  return 0.12 * count + 0.55 * (count - 1) / seconds + 1.5 * leaps / count + 2.5 * outside / count +
         0.8 * off / count;
}

double ModelledPlayer::answer(const Phrase& call, Tempo tempo, Chance& chance) const {
  if (call.notes.empty())
    return 1.0;
  const double right = 1.0 / (1.0 + std::exp(hardness(call, tempo) - skill));
  int count = 0;
  for (std::size_t i = 0; i < call.notes.size(); ++i)
    count += chance.unit() < right ? 1 : 0;
  return static_cast<double>(count) / static_cast<double>(call.notes.size());
}

} // namespace landfall::trade::testing
