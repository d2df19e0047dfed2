#pragma once

#include "song/song.hpp"

namespace landfall::song {

/// What stands between the bar lines: chords and slashes, in parts of a beat where needed.
std::string bar_text(const ChartBar& bar);

} // namespace landfall::song
