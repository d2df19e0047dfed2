#pragma once

#include "ear/verdict.hpp"

#include <span>
#include <string>

namespace landfall::ear {

/// `thirds`, `sevenths`, `fourths`; a degree's number, extensions folded.
std::string plural_of(int degree_number);

/// `landed 14 of 17 · thirds 6, roots 5, sevenths 3`; empty where nothing was played. Rests are not
/// counted; landings that came late are said apart: `2 late`.
std::string summary_words(const Summary& summary);

/// What summary_words() says of some changes, or that nothing was played at them.
std::string changes_words(std::span<const JudgedChange> changes);

/// `mostly 12 ms behind`, `on the beat`; empty for fewer than eight notes.
std::string timing_words(const Summary& summary, int notes);

} // namespace landfall::ear
