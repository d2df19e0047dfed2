#pragma once

#include "neck/fretboard.hpp"

#include <vector>

namespace landfall::neck {

/// Where one pitch is played.
struct Place {
  int string = 0; ///< Index in the tuning, low string first.
  int fret = 0;
  int pitch = 0;      ///< MIDI note number.
  bool reach = false; ///< Beyond the hand.

  bool operator==(const Place&) const = default;
};

/// The place of every reachable pitch of `set` with the hand at `low`, sorted by string, then fret:
/// in the hand if possible, by reach otherwise. Each pitch has one place; in reentrant tunings, one
/// on each course that has it in the hand.
///
/// Two places by reach: on the string of the half-step neighbour in the set (of two neighbours the
/// one in `chord`; then the upper); else on the string with fewer notes in the hand; then by the
/// first finger's reach. Two in the hand: the open string, then the string with fewer notes, then
/// the lower fret.
std::vector<Place> places(const Fretboard& board, PitchClasses set, PitchClasses chord, int low);

/// How many pitches of the set are had by reach alone with the hand at `low`.
int count_reaches(const Fretboard& board, PitchClasses set, int low);

} // namespace landfall::neck
