#pragma once

#include "theory/key.hpp"

namespace landfall::theory {

/// `ii7`, `bVIImaj7`, `V7/3`: degrees of the tonic's major scale, in major and minor keys alike;
/// lower case where the third is minor. A slash gives the bass as a degree of the key.
std::string roman(const Chord& chord, Key key);

/// Reads a Roman numeral (`bVII7`, `iim7b5`, `V/VII`) or a Nashville number (`4`, `b7`, `6-7`,
/// `1/3`) as a chord in `key`. Lower-case numerals are minor; numbers are major unless they say so.
/// A bass after the slash is a numeral or number.
Result<Chord> parse_numeral(std::string_view text, Key key);

} // namespace landfall::theory
