#pragma once

#include "render/draw.hpp"
#include "render/frame.hpp"

namespace landfall::render {

/// What to draw, from back to front. Pure: the same frame, size and metrics give the same list.
/// Any size above 0 is accepted; from 800x450 on nothing is cut and no labels meet.
DrawList layout(const Frame& frame, Size size, const TextMetrics& metrics);

} // namespace landfall::render
