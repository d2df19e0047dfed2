#pragma once

#include "render/frame.hpp"
#include "render/geometry.hpp"
#include "render/style.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// The whole of a take as a line: choruses, landings, the loop and the present place.
void draw_reel(Pen& pen, const Reel& reel, const Palette& colors, const Rect& band,
               const Scale& scale);

/// Which place of the take lies at `x`, 0 to 1; beyond the ends, the ends.
double reel_place(const Rect& band, const Scale& scale, int x);

} // namespace landfall::render
