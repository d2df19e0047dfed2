#pragma once

#include "band/feel.hpp"

#include <vector>

namespace landfall::band {

using song::cell_offset;
using song::Pulse;
using song::pulses;

/// For each of `wanted` pulses, which of a pattern's `written` beats is played there, from 0. The
/// first is the first and the last the last, so that bars open and lead on as they should.
std::vector<int> beats_for(int written, int wanted);

} // namespace landfall::band
