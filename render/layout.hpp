#pragma once

#include "render/draw.hpp"
#include "render/frame.hpp"

namespace landfall::render {

/// What to draw, from back to front. Pure: the same frame, size and metrics give the same list.
/// Any size above 0 is accepted; from 800x450 on nothing is cut and no labels meet.
DrawList layout(const Frame& frame, Size size, const TextMetrics& metrics);

/// How many rows the help page of such a frame can be scrolled by; 0 where all of it is shown.
/// Pure.
int most_scrolled(const Frame& frame, Size size);

} // namespace landfall::render
