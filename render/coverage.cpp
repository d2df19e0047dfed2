#include "render/coverage.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace landfall::render {

namespace {

/// The distance to an edge, inside positive, as the covered share of a pixel.
std::uint8_t soft(float inside) {
  return static_cast<std::uint8_t>(std::clamp(inside + 0.5F, 0.0F, 1.0F) * 255.0F + 0.5F);
}

/// `inside(x, y)` is the distance to the edge for a point measured from the centre.
template <typename Inside> Coverage covered(float outer_radius, Inside inside) {
  Coverage out{coverage_side(outer_radius), {}};
  const float half = static_cast<float>(out.side) / 2;
  out.pixels.resize(static_cast<std::size_t>(out.side) * static_cast<std::size_t>(out.side));
  auto pixel = out.pixels.begin();
  for (int row = 0; row < out.side; ++row)
    for (int column = 0; column < out.side; ++column)
      *pixel++ = soft(
          inside(static_cast<float>(column) + 0.5F - half, static_cast<float>(row) + 0.5F - half));
  return out;
}

float ring_inside(float distance, float radius, float stroke) {
  return stroke / 2 - std::abs(distance - radius);
}

} // namespace

int coverage_side(float outer_radius) {
  return 2 * (static_cast<int>(std::ceil(std::max(outer_radius, 0.0F))) + 1);
}

Coverage disc_coverage(float radius) {
  return covered(radius, [=](float x, float y) { return radius - std::hypot(x, y); });
}

Coverage ring_coverage(float radius, float stroke) {
  return covered(radius + stroke / 2,
                 [=](float x, float y) { return ring_inside(std::hypot(x, y), radius, stroke); });
}

Coverage arc_coverage(float radius, float stroke, float sweep) {
  if (sweep >= 1.0F)
    return ring_coverage(radius, stroke);
  const float turn = 2 * std::numbers::pi_v<float>;
  const float end = std::max(sweep, 0.0F) * turn;
  const float end_x = radius * std::sin(end), end_y = -radius * std::cos(end);
  return covered(radius + stroke / 2, [=](float x, float y) {
    const float band = ring_inside(std::sqrt(x * x + y * y), radius, stroke);
    if (band < -0.5F)
      return band;
    float angle = std::atan2(x, -y);
    if (angle < 0)
      angle += turn;
    if (angle <= end)
      return band;
    const float to_start = std::hypot(x, y + radius), to_end = std::hypot(x - end_x, y - end_y);
    return std::min(band, stroke / 2 - std::min(to_start, to_end));
  });
}

} // namespace landfall::render
