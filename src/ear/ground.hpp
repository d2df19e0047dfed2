#pragma once

#include "neck/fretboard.hpp"
#include "song/timeline.hpp"
#include "theory/note_set.hpp"

#include <bitset>
#include <vector>

namespace landfall::ear {

/// A run of the performance over which nothing changes that the ear asks for.
struct Span {
  Ticks from;
  Ticks to;
  std::optional<theory::Chord> chord; ///< None: N.C.
  neck::PitchClasses set = 0;         ///< Of the note set.
  neck::PitchClasses aimed = 0;       ///< Chord tones that count; all of them without a target.
  std::bitset<128> reachable;         ///< MIDI notes within hand and reach.
  int lowest_fret = 0;                ///< Of hand and reach; on a keyboard MIDI notes.
  int highest_fret = -1;
  Ticks bar;            ///< Where its bar begins, or began.
  Ticks beat = quarter; ///< In compound metre the dotted quarter.
  double swing = 0.5;   ///< Where the second eighth of a beat falls, 0.5 straight to 0.75.
};

/// A moment at which the player is asked to arrive.
struct Change {
  Ticks at;
  int chorus = 0;       ///< From 0.
  int bar = 1;          ///< Within the form, from 1.
  double beat = 1.0;    ///< From 1.
  std::size_t span = 0; ///< Of its chord, in Ground::spans.
  bool space = false;   ///< The chart leaves this bar silent: it is not judged.
};

/// A performance as the ear needs it: a value, growing at its end only.
struct Ground {
  std::vector<Span> spans;     ///< Following each other.
  std::vector<Change> changes; ///< Rising.
  song::TempoMap tempo{Tempo{}};
  std::vector<int> open_strings; ///< MIDI notes, string 1 first, capo included; empty: keyboard.

  /// The span at a tick; null outside.
  const Span* span_at(Ticks tick) const;
};

} // namespace landfall::ear
