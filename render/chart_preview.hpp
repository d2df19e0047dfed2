#pragma once

#include "render/style.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// A song's form written out, a stroke before each bar, as wide as its chords are. What finds no
/// room is counted at the end.
void draw_chart(Pen& pen, const std::vector<ChartLine>& chart, const Palette& colors,
                const Rect& rect, const Scale& scale);

} // namespace landfall::render
