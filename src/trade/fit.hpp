#pragma once

#include "trade/phrase.hpp"

namespace landfall::trade {

/// Where in a form a phrase can be played, and how it stands there.
struct Fit {
  int bar = 1;   ///< The form's bar in which it begins, from 1.
  Phrase phrase; ///< Over the form's chords and in its key there; no note has a string or fret.
};

/// Whether what is played over `phrase` can be played over `song`, from the same root: third,
/// fourth where there is no third, and fifth are the same, and so is the seventh, if the phrase's
/// chord has one.
bool can_carry(const theory::Chord& song, const theory::Chord& phrase);

/// The first place of a phrase in one chorus of a form, all its notes moved by the same interval of
/// at most a tritone: where its bars have the same lengths and a chord that can carry the phrase's
/// at each of its changes and at no other place. A place in which it stands in the form's key as it
/// does in its own comes before others.
std::optional<Fit> fit_in(const song::Form& form, const Phrase& phrase);

} // namespace landfall::trade
