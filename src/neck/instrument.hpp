#pragma once

#include "theory/note.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::neck {

/// The most strings and frets an instrument may have.
inline constexpr int max_strings = 24;
inline constexpr int max_frets = 36;

/// One string, or one course of strings of the same pitch.
struct String {
  theory::MidiNote open; ///< What it sounds when no fret is pressed, without a capo.
  /// The fret at which the string begins: 0 at the nut, 5 for the short string of a banjo. Its
  /// open sound is written as fret 0; the frets after first_fret count along the neck.
  int first_fret = 0;

  bool operator==(const String&) const = default;
};

/// Everything about an instrument that decides where its notes are.
struct Instrument {
  enum class Kind : std::uint8_t { fretted, keyboard };

  std::string name;
  Kind kind = Kind::fretted;

  std::vector<String> strings; ///< In the order of a written tuning: string 1 of the player last.
  int frets = 22;              ///< Of the longest string, counted from the nut.
  int capo = 0;                ///< The fret it sits at. All fret numbers then count from it.
  bool left_handed = false;    ///< Changes drawings only.
  int hand = 4;                ///< Frets under the hand; on a keyboard, the span in half steps.
  int reach = 1;               ///< Frets beyond the hand on either side; keys on a keyboard.

  theory::MidiNote lowest{21};   ///< The lowest key of a keyboard.
  theory::MidiNote highest{108}; ///< The highest key of a keyboard.

  bool operator==(const Instrument&) const = default;
};

/// Six strings, E2 A2 D3 G3 B3 E4, 22 frets, four frets and one for reach.
Instrument standard_guitar();

/// 88 keys, a hand that spans a tenth.
Instrument standard_keyboard();

/// Reads a tuning, low string first, separated by spaces: `D2 A2 D3 G3 B3 E4`.
Result<std::vector<theory::MidiNote>> parse_tuning(std::string_view text);

/// `E2 A2 D3 G3 B3 E4`: as it is written, the capo left out.
std::string tuning_text(const Instrument& instrument);

/// The instrument with other strings. Where the number of strings stays, so do their first frets.
Instrument retuned(Instrument instrument, const std::vector<theory::MidiNote>& tuning);

/// Reads an instrument file. Lines are `name: value`; empty lines and lines that begin with `#` are
/// left out. Names: `name` (required), `kind` (fretted, keyboard), `tuning` (required if fretted),
/// `frets`, `first frets` (one number a string), `capo`, `left-handed` (yes, no), `hand`, `reach`,
/// `range` (of a keyboard: `A0 C8`). Errors point at the line and column.
Result<Instrument> parse_instrument(std::string_view text);

} // namespace landfall::neck
