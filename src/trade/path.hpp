#pragma once

#include "neck/view.hpp"
#include "time/ticks.hpp"

namespace landfall::trade {

/// A place where a note can be played over one chord, as the hand meets it.
struct Spot {
  theory::MidiNote midi;
  std::optional<int> string; ///< As players number them; none on a keyboard.
  std::optional<int> fret;
  int finger = 0; ///< 0 index to 3 little finger; -1 for an open string; 0 on a keyboard.
  bool reach = false;
  bool in_set = false;
  bool landing = false; ///< One of the landing notes of its chord.
  bool tone = false;    ///< Of the chord.
  bool guide = false;   ///< One of the tones that tell the chord.

  bool operator==(const Spot&) const = default;
};

/// What lies under the hand over one chord.
struct Ground {
  std::vector<Spot> notes; ///< The note set, and landing notes where they lie outside it, rising.
  std::vector<Spot> all;   ///< Every pitch within reach, for approach notes, rising.
};

/// Without a chord (N.C.) the landing notes are those of the key's tonic chord.
Ground ground_under(const neck::Setting& setting, const std::optional<theory::Chord>& chord);

/// How much the hand minds going from one place to the next: 0 for neighbouring strings and free
/// fingers; more for strings that are skipped, reaches, slides and a finger that must jump.
double effort(const Spot& from, const Spot& to);

/// The shortest time from one onset to the next that a practised hand needs between two places:
/// 70 ms on one string or the next; 25 ms more for each string skipped, 60 for a slide of one
/// finger, 40 for a finger that crosses strings. On keys 65 ms, and 4 for each half step above a
/// fifth. Our own figures.
Nanoseconds quickest(const Spot& from, const Spot& to);

} // namespace landfall::trade
