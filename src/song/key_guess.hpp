#pragma once

#include "theory/key.hpp"

#include <span>

namespace landfall::song {

/// The key in which these chords, in order, are most at home: how much of them its scale holds,
/// with weight on the first and last chord and on falling fifths to the tonic. C without chords.
theory::Key likely_key(std::span<const theory::Chord> chords);

} // namespace landfall::song
