#include "trade/fit.hpp"

#include <algorithm>

namespace landfall::trade {
namespace {

/// Half steps up, in [0, 11].
int interval(theory::Note from, theory::Note to) {
  return (pitch_class(to) - pitch_class(from) + 12) % 12;
}

/// Without chords that only go on.
std::vector<PhraseChord> changes_of(const Phrase& phrase) {
  std::vector<PhraseChord> changes;
  for (const auto& chord : phrase.chords)
    if (changes.empty() || changes.back().chord != chord.chord)
      changes.push_back(chord);
  return changes;
}

/// How far the phrase's chords have to be moved to lie over the bars; none if they do not.
std::optional<int> shift_to(const Phrase& bars, const Phrase& phrase,
                            const std::vector<PhraseChord>& changes) {
  if (bars.meter != phrase.meter || bars.length != phrase.length ||
      bars.chords.size() != changes.size())
    return std::nullopt;
  std::optional<int> shift;
  for (std::size_t i = 0; i < changes.size(); ++i) {
    const auto& song = bars.chords[i];
    const auto& own = changes[i];
    if (song.at != own.at || song.chord.has_value() != own.chord.has_value())
      return std::nullopt;
    if (!own.chord)
      continue;
    const int moved = interval(own.chord->root, song.chord->root);
    if (moved != shift.value_or(moved) || !can_carry(*song.chord, *own.chord))
      return std::nullopt;
    shift = moved;
  }
  return shift;
}

/// The note nearest to where it was, over the chord that lies at its old chord's place.
PhraseNote moved(PhraseNote note, int shift, const Phrase& from, const Phrase& to) {
  const int up = shift > 6 ? shift - 12 : shift;
  note.midi = note.midi + up;
  note.string.reset();
  note.fret.reset();
  note.chord = chord_index(to, from.chords[static_cast<std::size_t>(note.chord)].at);
  return note;
}

bool is_midi(theory::MidiNote note) {
  return note.number >= 0 && note.number <= 127;
}

Phrase placed(const Phrase& phrase, Phrase bars, int shift) {
  for (const auto& note : phrase.notes)
    bars.notes.push_back(moved(note, shift, phrase, bars));
  return bars;
}

} // namespace

bool can_carry(const theory::Chord& song, const theory::Chord& phrase) {
  const auto same = [&](int number) {
    return degree_numbered(song, number) == degree_numbered(phrase, number);
  };
  const bool thirdless = !degree_numbered(phrase, 3).has_value();
  return same(3) && same(5) && (!thirdless || same(4)) &&
         (!degree_numbered(phrase, 7).has_value() || same(7));
}

std::optional<Fit> fit_in(const song::Form& form, const Phrase& phrase) {
  const auto changes = changes_of(phrase);
  std::optional<Fit> found;
  for (int bar = 1; bar + phrase.bars - 1 <= static_cast<int>(form.bars.size()); ++bar) {
    auto bars = blank_phrase(form, bar, phrase.bars);
    const auto shift = shift_to(bars, phrase, changes);
    if (!shift)
      continue;
    const bool in_key = *shift == interval(phrase.key.tonic, bars.key.tonic);
    if (found && !in_key)
      continue;
    Fit fit{bar, placed(phrase, std::move(bars), *shift)};
    if (!std::ranges::all_of(fit.phrase.notes, is_midi, &PhraseNote::midi))
      continue;
    found = std::move(fit);
    if (in_key)
      break;
  }
  return found;
}

} // namespace landfall::trade
