#include "song/changes.hpp"

namespace landfall::song {

namespace {

constexpr int reminder_bars = 4;

bool same_tones(const std::optional<theory::Chord>& a, const std::optional<theory::Chord>& b) {
  return a.has_value() == b.has_value() && (!a || theory::same_tones(*a, *b));
}

Change change_at(const Bar& bar, const ChordAt& chord, bool fresh) {
  const double beat =
      1.0 + static_cast<double>(chord.at.count) / static_cast<double>(beat_length(bar.meter).count);
  return {bar.number, beat, bar.start + chord.at, *chord.chord, fresh};
}

} // namespace

std::vector<Change> changes(const Form& form) {
  std::vector<Change> result;
  const std::optional<theory::Chord>* before = &form.bars.back().chords.back().chord;
  int since = 1; // the bar in which the last change lies
  for (const Bar& bar : form.bars)
    for (const ChordAt& chord : bar.chords) {
      const bool top = bar.number == 1 && chord.at == Ticks{0};
      const bool fresh = !same_tones(*before, chord.chord);
      const bool reminder = chord.at == Ticks{0} && bar.number - since == reminder_bars;
      before = &chord.chord;
      if (!fresh && !top && !reminder)
        continue;
      since = bar.number;
      if (chord.chord)
        result.push_back(change_at(bar, chord, fresh));
    }
  return result;
}

} // namespace landfall::song
