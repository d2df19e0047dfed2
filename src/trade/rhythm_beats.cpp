#include "trade/rhythm.hpp"

#include <algorithm>
#include <cassert>

namespace landfall::trade {
namespace {

/// Where the second half of a bar of so many beats begins: 4 is 2 + 2, 3 has none, 5 is 3 + 2.
int second_half(int beats) {
  if (beats < 4)
    return beats == 2 ? 1 : 0;
  return (beats + 1) / 2;
}

bool chord_begins(const song::Bar& bar, const song::Pulse& pulse) {
  return std::any_of(bar.chords.begin(), bar.chords.end(), [&](const song::ChordAt& chord) {
    return chord.fresh && chord.at >= pulse.start && chord.at < pulse.start + pulse.length;
  });
}

} // namespace

std::vector<TurnBeat> turn_beats(const song::Form& form, int first, int bars) {
  assert(first >= 1 && first <= static_cast<int>(form.bars.size()) && bars >= 1);
  std::vector<TurnBeat> beats;
  Ticks start;
  for (int i = 0; i < bars; ++i) {
    const auto& bar = form.bars[static_cast<std::size_t>(first - 1 + i) % form.bars.size()];
    const auto pulses = song::pulses(bar.meter);
    const int half = second_half(static_cast<int>(pulses.size()));
    for (std::size_t k = 0; k < pulses.size(); ++k) {
      TurnBeat beat{pulses[k], i, 1, chord_begins(bar, pulses[k])};
      beat.pulse.start += start;
      if (k == 0)
        beat.weight = 3;
      else if (static_cast<int>(k) == half)
        beat.weight = 2;
      beats.push_back(beat);
    }
    start += song::bar_length(bar.meter);
  }
  return beats;
}

} // namespace landfall::trade
