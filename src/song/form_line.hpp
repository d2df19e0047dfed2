#pragma once

#include "song/diagnostic.hpp"
#include "song/song.hpp"

namespace landfall::song {

/// Reads `Verse, Verse, Bridge x2, Verse` (the commas may be left out) as indices of `sections`;
/// case does not matter. What it can't read is reported.
std::vector<int> read_form_line(std::string_view line, Position start,
                                const std::vector<Section>& sections, Reporter& reporter);

} // namespace landfall::song
