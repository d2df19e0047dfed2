#pragma once

#include "app/sheet_flow.hpp"
#include "song/form.hpp"
#include "song/song.hpp"

namespace landfall::app::sheet {

/// The changes as they are written, in the form's key: four bars a line, sections by name, repeats
/// and endings with their signs, changes of metre, key, tempo and feel above their bars. A line is
/// a block. `form` is `song` unrolled.
std::vector<Block> chart_blocks(const song::Song& song, const song::Form& form, double room,
                                const render::TextMetrics& metrics);

} // namespace landfall::app::sheet
