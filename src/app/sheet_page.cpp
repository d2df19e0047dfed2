#include "app/sheet_page.hpp"

#include <algorithm>

namespace landfall::app::sheet {
namespace {

template <typename... Each> struct Overloaded : Each... { using Each::operator()...; };
template <typename... Each> Overloaded(Each...) -> Overloaded<Each...>;

// Of a text's size.
constexpr double letter_height = 0.72, below_baseline = 0.05;

Bounds of(const Curve& curve) {
  const auto& p = curve.points;
  const auto [left, right] = std::minmax({p[0], p[2], p[4], p[6]});
  const auto [top, bottom] = std::minmax({p[1], p[3], p[5], p[7]});
  return {left, top, right, bottom};
}

} // namespace

Bounds bounds(const Mark& mark) {
  return std::visit(
      Overloaded{
          [](const Box& box) {
            return Bounds{box.x, box.y, box.x + box.width, box.y + box.height};
          },
          [](const Line& line) {
            const double half = line.width / 2;
            return Bounds{std::min(line.x1, line.x2) - half, std::min(line.y1, line.y2) - half,
                          std::max(line.x1, line.x2) + half, std::max(line.y1, line.y2) + half};
          },
          [](const Disc& disc) {
            const double radius = disc.radius + disc.stroke / 2;
            return Bounds{disc.x - radius, disc.y - radius, disc.x + radius, disc.y + radius};
          },
          [](const Curve& curve) { return of(curve); },
          [](const Words& words) {
            return Bounds{words.x, words.y - words.size * letter_height, words.x + words.width,
                          words.y + words.size * below_baseline};
          }},
      mark);
}

Mark moved(Mark mark, double x, double y) {
  std::visit(Overloaded{[&](Line& line) {
                          line.x1 += x, line.x2 += x;
                          line.y1 += y, line.y2 += y;
                        },
                        [&](Curve& curve) {
                          for (std::size_t i = 0; i < curve.points.size(); i += 2)
                            curve.points[i] += x, curve.points[i + 1] += y;
                        },
                        [&](auto& other) { other.x += x, other.y += y; }},
             mark);
  return mark;
}

} // namespace landfall::app::sheet
