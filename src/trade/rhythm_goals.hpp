#pragma once

#include "trade/rhythm.hpp"

namespace landfall::trade {

/// The onsets with a landing at each change that the line reaches, added where it plays through a
/// change without a note; thinned to what the density allows; each with its chord, no note longer
/// than the way to the next.
std::vector<Onset> with_goals(std::vector<Onset> onsets, const RhythmRequest& request);

} // namespace landfall::trade
