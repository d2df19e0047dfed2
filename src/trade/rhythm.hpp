#pragma once

#include "song/form.hpp"
#include "song/pulse.hpp"
#include "trade/call_chance.hpp"
#include "trade/density.hpp"

#include <span>
#include <vector>

namespace landfall::trade {

/// How the band's feel divides the beat.
struct Groove {
  song::Swing swing;
  bool sixteenths = false; ///< A feel of sixteenths.
  bool ternary = false;    ///< Written in a compound metre: three to the beat.

  bool operator==(const Groove&) const = default;
};

/// A beat of a turn, as the foot taps it.
struct TurnBeat {
  song::Pulse pulse;  ///< Its start is from the turn's first bar line.
  int bar = 0;        ///< From 0.
  int weight = 1;     ///< 3 the bar's first, 2 where its second half begins, else 1.
  bool fresh = false; ///< Whether another chord begins within it.

  bool operator==(const TurnBeat&) const = default;
};

/// The beats of `bars` bars of a looping form from bar `first`, from 1.
std::vector<TurnBeat> turn_beats(const song::Form& form, int first, int bars);

/// When a note of a call begins, and what it is for.
struct Onset {
  Ticks start; ///< From the turn's first bar line; below 0 in a pick-up.
  Ticks length;
  int weight = 0;    ///< Its beat's; 0 off the beat.
  int beat = 0;      ///< Which beat of the turn; -1 for a pick-up.
  bool goal = false; ///< A landing: the end, or at a change.
  int chord = 0;     ///< Which of the turn's chords it is heard against.
  int twin = -1;     ///< The onset at the same place in the motif that it repeats.

  bool operator==(const Onset&) const = default;
};

/// What a rhythm is made for.
struct RhythmRequest {
  std::span<const TurnBeat> beats;
  std::span<const Ticks> changes; ///< Where the turn's chords begin, the first at 0.
  Groove groove;
  Tempo tempo;
  const Density* density = nullptr; ///< Never null.
};

/// A rhythm: a motif, repeated and varied, with space, up to a landing at the end. Rising starts;
/// no two onsets nearer than the density allows at the tempo. The last onset is a goal; so is each
/// that is at a change or held into it.
std::vector<Onset> make_rhythm(const RhythmRequest& request, Chance& chance);

} // namespace landfall::trade
