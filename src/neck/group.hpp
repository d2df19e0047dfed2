#pragma once

#include "neck/position.hpp"

#include <string_view>

namespace landfall::neck {

/// Three chord tones on three adjacent strings, or under one hand on a keyboard.
struct Group {
  enum class Kind : std::uint8_t { triad, fifth };

  std::array<int, 3> strings{}; ///< As players number them, lowest first; 0 on a keyboard.
  std::array<int, 3> frets{};   ///< Of these strings; on a keyboard equal to the pitches.
  std::array<int, 3> pitches{}; ///< MIDI notes, rising.
  Kind kind = Kind::triad;
  std::string_view form; ///< `root position`, `first inversion`, `1-5-1`: static text.
  bool in_grip = false;  ///< All three are in the chord's grip.

  bool operator==(const Group&) const = default;
};

/// Every group within hand and reach at `low`: three rising chord tones on three adjacent strings,
/// under an octave and a half from lowest to highest, at most four frets apart, that are a triad
/// (where a chord has no third, its fourth or second stands for it) or roots and fifths alone.
/// Those in the grip come first, then by string from the lowest, triads first, then by fret.
std::vector<Group> groups(const Fretboard& board, const ChordTones& chord, int low,
                          const FretRow& grip);

/// On a keyboard: close triads and their inversions between two keys; a chord without a third or
/// anything in its place has its fifth chords instead.
std::vector<Group> groups(const ChordTones& chord, int lowest, int highest);

} // namespace landfall::neck
