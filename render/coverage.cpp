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

/// `inside(x, y)` is the distance to the edge for a point measured from the middle.
template <typename Inside> Coverage covered(int width, int height, Inside inside) {
  Coverage out{width, height, {}};
  const float middle_x = static_cast<float>(width) / 2, middle_y = static_cast<float>(height) / 2;
  out.pixels.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  auto pixel = out.pixels.begin();
  for (int row = 0; row < height; ++row)
    for (int column = 0; column < width; ++column)
      *pixel++ = soft(inside(static_cast<float>(column) + 0.5F - middle_x,
                             static_cast<float>(row) + 0.5F - middle_y));
  return out;
}

template <typename Inside> Coverage covered(float outer_radius, Inside inside) {
  const int side = coverage_side(outer_radius);
  return covered(side, side, inside);
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

Coverage line_coverage(int across, int down, float stroke) {
  const int ends = coverage_side(stroke / 2);
  const float x_end = static_cast<float>(across) / 2, y_end = static_cast<float>(down) / 2;
  const float square = x_end * x_end + y_end * y_end;
  return covered(std::abs(across) + ends, std::abs(down) + ends, [=](float x, float y) {
    const float along = square > 0 ? (x * x_end + y * y_end) / square : 0.0F;
    const float nearest = std::clamp(along, -1.0F, 1.0F);
    return stroke / 2 - std::hypot(x - nearest * x_end, y - nearest * y_end);
  });
}

} // namespace landfall::render
