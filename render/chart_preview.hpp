#pragma once

#include "render/style.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// A song's form, four bars a line, as on a lead sheet. What finds no room is counted in the last
/// line.
void draw_chart(Pen& pen, const std::vector<ChartLine>& chart, const Palette& colors,
                const Rect& rect, const Scale& scale);

} // namespace landfall::render
