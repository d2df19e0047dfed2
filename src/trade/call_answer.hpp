#pragma once

#include "neck/view.hpp"
#include "trade/phrase.hpp"

namespace landfall::trade {

/// What is asked for in answer to a call.
enum class AnswerKind : std::uint8_t {
  echo,   ///< The notes of answer_for().
  rhythm, ///< Its onsets, with notes of the player's own.
  free,   ///< A phrase of the player's own that lands.
};

/// The call as it stands over other bars, or in another key or place: what an echo is held against,
/// and how a missed call comes back. `bars` is a blank phrase over the new bars, as long as the
/// call's or longer; `setting` is where it is to be played, in the new bars' key.
///
/// Over the same chord a note stays. Over another one a chord tone becomes the tone of the same
/// number (a third a third, minor or major), another note of the set the nearest note of the set to
/// its degree, and approach notes and enclosures stay as near to their landing as they were. The
/// line keeps its direction; where it leaves the position a note goes to the octave that lies in
/// it.
Phrase answer_for(const Phrase& call, const Phrase& bars, const neck::Setting& setting);

/// The same call with fewer notes: approach notes and enclosures go, then what is off the beat,
/// then every second note, until a third of the notes is gone. Landings stay.
Phrase easier(const Phrase& call);

} // namespace landfall::trade
