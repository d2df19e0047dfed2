#pragma once

#include "song/form.hpp"

namespace landfall::song {

/// A moment at which the player is asked to arrive on a chord tone.
struct Change {
  int bar = 1;     ///< Within the form, from 1.
  double beat = 1; ///< From 1; in compound metre the beat is the dotted quarter.
  Ticks tick;      ///< From the top of the chorus.
  theory::Chord chord;
  bool fresh = true; ///< Whether the chord tones differ from before; false at the top after the
                     ///< same chord and at the bars that remind of a long one.

  bool operator==(const Change&) const = default;
};

/// The changes of one chorus of a looping form, rising: where the chord tones differ from before,
/// the top of the form, and every fourth bar inside an unchanged chord. None in N.C. What comes
/// before the top is the form's own end.
std::vector<Change> changes(const Form& form);

} // namespace landfall::song
