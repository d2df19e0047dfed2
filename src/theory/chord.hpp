#pragma once

#include "theory/degree.hpp"

namespace landfall::theory {

/// A chord symbol, read.
struct Chord {
  Note root;
  std::string suffix;          ///< In the program's own spelling: "", "m7b5", "maj9", "7sus4".
  std::vector<Degree> degrees; ///< In the symbol's order: 1 3 5 b7 9 13.
  std::optional<Note> bass;    ///< After a slash, also when it is no chord tone.

  bool operator==(const Chord&) const = default;
};

/// Reads a symbol as musicians write it. An error's column is the offending character's.
Result<Chord> parse_chord(std::string_view text);

/// Reads what follows a root (`m7b5`, `Δ`, `7(#9)`): the same grammar, used by numerals too.
/// The chord's root is C and stands for nothing.
Result<Chord> parse_chord_suffix(std::string_view text);

/// The symbol in the program's spelling: `Ebm7b5/Gb`.
std::string ascii(const Chord& chord);

/// Its spelled notes, in the order of its degrees.
std::vector<Note> notes(const Chord& chord);

/// The degree of a sound in the chord, or none if it is no chord tone. The bass does not count.
std::optional<Degree> degree_in(const Chord& chord, int pitch_class);

/// Whether the sounds are the same from the same root; bass and spelling aside.
bool same_tones(const Chord& a, const Chord& b);

/// The chord's degree with this number (3: its third), altered or not; none if it has none.
std::optional<Degree> degree_numbered(const Chord& chord, int number);

enum class Quality { major, minor, dominant, diminished, half_diminished, augmented, suspended };

/// How the chord behaves, from its third, fifth and seventh. A fifth chord counts as major.
Quality quality(const Chord& chord);

/// Whether its third is minor.
bool is_minor(const Chord& chord);

/// The tones that tell the chord: third and seventh; the fourth of a sus chord, the sixth of a
/// sixth chord, the fifth where it is diminished or augmented. A fifth chord has none.
std::vector<Degree> guide_tones(const Chord& chord);

} // namespace landfall::theory
