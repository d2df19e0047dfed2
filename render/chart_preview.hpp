#pragma once

#include "render/style.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// A song's form in strips of four bars, pieces of the lane. What finds no room is counted in the
/// last line.
void draw_chart(Pen& pen, const std::vector<ChartLine>& chart, const Palette& colors,
                const Rect& rect, const Scale& scale);

} // namespace landfall::render
