#pragma once

#include "theory/note.hpp"

#include <optional>
#include <vector>

namespace landfall::theory {

/// A degree counted from a root along its major scale: b3, #4, 13, bb7.
struct Degree {
  int number = 1;     ///< From 1; 9, 11 and 13 are the upper extensions.
  int alteration = 0; ///< Half steps from the major scale's degree of that number.

  constexpr auto operator<=>(const Degree&) const = default;
};

/// Half steps above the root; 9, 11 and 13 lie above the octave.
int half_steps(Degree degree);

/// half_steps folded into [0, 11].
int pitch_class(Degree degree);

/// The same degree within the octave: 9 becomes 2, 13 becomes 6.
Degree folded(Degree degree);

/// `b3`, `#11`, `bb7`.
std::string ascii(Degree degree);

/// Reads `b3`, `♭3`, `#11`: numbers 1 to 13.
Result<Degree> parse_degree(std::string_view text);

/// The spelled note on `degree` of `root`: b3 of F# is A.
Note note_at(Note root, Degree degree);

/// The degree in [1, 7] that `note` is above `root`, by letter: Gb above C is b5, F# is #4.
Degree degree_between(Note root, Note note);

/// The degree of a bare sound above a root, by the usual names 1 b2 2 b3 3 4 b5 5 b6 6 b7 7.
Degree usual_degree(int half_steps_above_root);

/// The degrees of the notes on `root`.
std::vector<Note> notes_at(Note root, const std::vector<Degree>& degrees);

} // namespace landfall::theory
