#pragma once

#include "theory/key.hpp"

namespace landfall::theory {

/// `ii7`, `bVIImaj7`, `V7/7`: degrees of the tonic's major scale, in major and minor keys alike;
/// lower case where the third is minor. A number after the slash is the bass, as a degree of the
/// key.
std::string roman(const Chord& chord, Key key);

/// Reads a Roman numeral (`bVII7`, `iiø`, `V7/ii`) or a Nashville number (`4`, `b7`, `6-7`, `1/3`)
/// as a chord in `key`. Lower-case numerals are minor; numbers are major unless they say so. After
/// the slash, a number is the bass as a degree of the key, and a numeral the chord that the first
/// one leads to: V7/ii is the dominant of ii.
Result<Chord> parse_numeral(std::string_view text, Key key);

} // namespace landfall::theory
