#pragma once

#include "ear/heard.hpp"
#include "neck/fretboard.hpp"
#include "time/tempo.hpp"

namespace landfall::ear {

/// Ticks that so many milliseconds take at a tempo.
Ticks ticks_of_ms(double ms, Tempo tempo);

/// What a note sounds around a moment.
struct Pitch {
  int midi = 60;       ///< With the bend, rounded; 0 to 127.
  double cents = 0.0;  ///< From `midi`.
  bool settled = true; ///< It counts as `midi`.

  bool operator==(const Pitch&) const = default;
};

/// How long after a moment its pitch is known for good.
inline constexpr double settling_ms = 200.0;

/// The pitch from `at` on: the median over 60 ms, settled within 35 cents. Vibrato averages out; a
/// wide vibrato is heard over 200 ms, and a bend that only runs through a pitch does not settle
/// there.
Pitch pitch_at(const HeardNote& note, Ticks at, Tempo tempo);

/// Where a bend arrives, in (from, to], on one of `tones`, having stood elsewhere at `from`.
struct BendArrival {
  Ticks at;
  Pitch pitch;
};
std::optional<BendArrival> bend_arrival(const HeardNote& note, Ticks from, Ticks to,
                                        neck::PitchClasses tones, Tempo tempo);

/// What the note is as a whole: where it stands for most of its first 300 ms.
Pitch main_pitch(const HeardNote& note, Tempo tempo);

/// What it sounds just before `tick`, or before its end if that is earlier.
int last_midi(const HeardNote& note, Ticks tick);

} // namespace landfall::ear
