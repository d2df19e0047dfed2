#include "trade/phrase.hpp"

#include <algorithm>
#include <cassert>

namespace landfall::trade {

int chord_index(const Phrase& phrase, Ticks tick) {
  assert(!phrase.chords.empty());
  const auto after = std::find_if(phrase.chords.begin() + 1, phrase.chords.end(),
                                  [&](const PhraseChord& chord) { return chord.at > tick; });
  return static_cast<int>(after - phrase.chords.begin()) - 1;
}

theory::Degree degree_over(const std::optional<theory::Chord>& chord, theory::Key key,
                           theory::MidiNote midi) {
  const int sound = pitch_class(midi);
  if (chord)
    if (const auto tone = theory::degree_in(*chord, sound))
      return theory::folded(*tone);
  const auto root = chord ? chord->root : key.tonic;
  return theory::usual_degree((sound - theory::pitch_class(root) + 12) % 12);
}

Phrase blank_phrase(const song::Form& form, int first, int bars) {
  assert(first >= 1 && first <= static_cast<int>(form.bars.size()) && bars >= 1);
  Phrase phrase;
  phrase.bars = bars;
  for (int i = 0; i < bars; ++i) {
    const auto& bar = form.bars[static_cast<std::size_t>(first - 1 + i) % form.bars.size()];
    if (i == 0) {
      phrase.meter = bar.meter;
      phrase.key = bar.key;
    }
    for (const auto& chord : bar.chords)
      if (phrase.chords.empty() || phrase.chords.back().chord != chord.chord)
        phrase.chords.push_back({phrase.length + chord.at, chord.chord});
    phrase.length += song::bar_length(bar.meter);
  }
  return phrase;
}

} // namespace landfall::trade
