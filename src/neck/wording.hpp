#pragma once

#include "neck/view.hpp"

#include <string>

namespace landfall::neck {

/// The lines that say what a view shows: the chord and the place; the chord's shape; the notes.
std::vector<std::string> headings(const Setting& setting, const std::optional<theory::Chord>& chord,
                                  const NeckView& view);

/// `an E shape`.
std::string with_article(char shape);

/// `E flat`, `F double sharp`.
std::string spoken(theory::Note note);

/// `root`, `flat third`, `sharp eleventh`.
std::string spoken(theory::Degree degree);

/// `5 7 5 6 5 5`, with x for a muted string.
std::string frets_text(const Grip& grip);

/// `5 7 5`.
std::string frets_text(const Group& group);

/// The frets a picture of the view shows, reach included.
FretRange shown_frets(const Fretboard& board, const NeckView& view);

} // namespace landfall::neck
