#pragma once

#include "song/form.hpp"

#include <optional>
#include <vector>

/// Trading phrases: what is played, and what is asked for in answer.
namespace landfall::trade {

/// What a note of a phrase says that it is.
enum class PhraseRole : std::uint8_t {
  set,       ///< A note of the set, or a chord tone on the way.
  landing,   ///< A chord tone that the phrase arrives on: at a change, or at its end.
  approach,  ///< Leads by a half step to the next note; need not be in the set.
  enclosure, ///< One of two neighbours, above and below, that lead to a note; need not be in the
             ///< set.
};

/// A chord of the bars that a phrase lies over.
struct PhraseChord {
  Ticks at;                           ///< From the phrase's first bar line; the first is at 0.
  std::optional<theory::Chord> chord; ///< None is N.C.

  bool operator==(const PhraseChord&) const = default;
};

struct PhraseNote {
  Ticks start;  ///< From the phrase's first bar line; below 0 in a pick-up.
  Ticks length; ///< Above 0; notes of one phrase may overlap (double stops, ringing).
  theory::MidiNote midi;
  std::optional<int> string; ///< As players number them; none on a keyboard, or where unknown.
  std::optional<int> fret;   ///< Counted from the capo.
  int velocity = 90;         ///< 1 to 127.
  std::optional<double> bend_cents{}; ///< Bent from `midi` to so many cents above it.
  PhraseRole role = PhraseRole::set;
  int chord = 0;         ///< Which of Phrase::chords it is heard against: of notes that lead into a
                         ///< change, the coming one.
  theory::Degree degree; ///< Relative to that chord's root, within the octave; the key's for N.C.

  bool operator==(const PhraseNote&) const = default;
};

/// A call, an answer, or a phrase from a file. The length of its bars is the space that it is
/// given; its own notes may begin before (a pick-up) and ring on.
struct Phrase {
  int bars = 1;      ///< At least 1.
  song::Meter meter; ///< Of its first bar.
  Ticks length;      ///< Of all its bars.
  theory::Key key;
  std::vector<PhraseChord> chords; ///< At least one.
  std::vector<PhraseNote> notes;   ///< By start, then pitch.

  bool operator==(const Phrase&) const = default;
};

/// Which of the phrase's chords holds at `tick`, from its first bar line; the first before it.
int chord_index(const Phrase& phrase, Ticks tick);

/// The degree of a sound over a chord, or in the key where there is none, within the octave.
theory::Degree degree_over(const std::optional<theory::Chord>& chord, theory::Key key,
                           theory::MidiNote midi);

/// `bars` bars of a looping form from bar `first` (1 to its last), as an empty phrase over their
/// chords, which are repeated at no bar line.
Phrase blank_phrase(const song::Form& form, int first, int bars);

} // namespace landfall::trade
