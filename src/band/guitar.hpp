#pragma once

#include "band/voicing.hpp"

namespace landfall::band {

/// Whether one hand can hold the voicing on a guitar in standard tuning: each note on a string of
/// its own, the fretted ones within four frets, none above the fifteenth. Unused strings are
/// damped.
bool playable_on_guitar(const Voicing& voicing);

} // namespace landfall::band
