#pragma once

#include "ear/match.hpp"

#include <string>

namespace landfall::ear {

/// A small number as players say it: `one` to `twelve`, then figures.
std::string number_words(int number);

/// How far off a wrong note is: `half step high`, `fourth low`, `40 cents high`.
std::string pitch_words(double cents_off);

/// What there is to say of a note: `half step high`, `38 ms behind`; empty when it is right or has
/// not come.
std::string note_words(const MatchedNote& note, double close_ms);

/// `11 of 12 notes, two of them behind`, `all 8 notes`, `nothing yet`. No percentage, no praise.
std::string summary_words(const Match& match);

} // namespace landfall::ear
