#pragma once

#include "neck/instrument.hpp"

#include <array>
#include <cstdint>
#include <optional>

namespace landfall::neck {

/// Twelve pitch classes, bit 0 for C.
using PitchClasses = std::uint16_t;

constexpr bool has(PitchClasses set, int pitch) {
  return ((set >> (pitch % 12)) & 1) != 0;
}

/// A stretch of frets; empty when last < first.
struct FretRange {
  int first = 0;
  int last = -1;

  constexpr bool contains(int fret) const { return fret >= first && fret <= last; }
};

/// What lies under a hand: its own frets, and the frets that reach adds.
struct HandFrets {
  FretRange hand, below, above;

  constexpr bool reached(int fret) const { return below.contains(fret) || above.contains(fret); }
};

/// A fretted instrument as the player's hand meets it: the capo is the nut, and frets count from
/// it. Plain values, cheap to make and to copy.
struct Fretboard {
  explicit Fretboard(const Instrument& instrument);

  std::array<String, max_strings> strings; ///< Low string first, as tuned; sounding pitches.
  int count = 0;
  int frets = 0;
  int hand = 4;
  int reach = 1;
  bool reentrant = false; ///< Whether a string is higher than the one after it.
  /// Half steps by which the top six strings lie above standard tuning, where they have its
  /// intervals: only then have the shapes C A G E D a meaning.
  std::optional<int> shape_offset;

  /// The sound of a fret, 0 for the open string; none where there is no such fret or no MIDI note.
  std::optional<int> pitch(int string, int fret) const;

  /// The frets under a hand at `low`. At 0, the open position: frets 0 to `hand`, at least to 4
  /// (a narrower hand takes the rest by reach), without further reach.
  HandFrets under(int low) const;

  /// Whether the hand fits on the board: not below 0, not beyond the last fret.
  bool fits(int low) const { return low >= 0 && low + hand - 1 <= frets; }

  /// Strings as players number them, 1 for the last of the tuning.
  int number(int string) const { return count - string; }
};

} // namespace landfall::neck
