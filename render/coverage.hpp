#pragma once

#include <cstdint>
#include <vector>

namespace landfall::render {

/// How much of each pixel a shape covers, 0 to 255; a rectangle around its middle.
struct Coverage {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> pixels; ///< Row by row.
};

/// Side of the square that holds a shape of this outer radius with its soft edge.
int coverage_side(float outer_radius);

Coverage disc_coverage(float radius);
/// `radius` is that of the middle of the stroke.
Coverage ring_coverage(float radius, float stroke);
/// Clockwise from twelve o'clock with round ends; `sweep` is 0 to 1, and 1 is the whole ring.
Coverage arc_coverage(float radius, float stroke, float sweep);
/// From one pixel corner to another `across` and `down` from it, with round ends.
Coverage line_coverage(int across, int down, float stroke);

} // namespace landfall::render
