#pragma once

#include <algorithm>

namespace landfall::render {

/// Clamped; what is not a number becomes `low`.
constexpr double between(double low, double value, double high) {
  return value > low ? (value < high ? value : high) : low;
}

/// Pixels of the finished picture.
struct Size {
  int width = 0;
  int height = 0;

  constexpr bool operator==(const Size&) const = default;
};

struct Point {
  int x = 0;
  int y = 0;

  constexpr bool operator==(const Point&) const = default;
};

/// Half open: right() and bottom() lie outside.
struct Rect {
  int x = 0;
  int y = 0;
  int width = 0;
  int height = 0;

  constexpr bool operator==(const Rect&) const = default;

  constexpr int right() const { return x + width; }
  constexpr int bottom() const { return y + height; }
  constexpr bool empty() const { return width <= 0 || height <= 0; }
  constexpr Point middle() const { return {x + width / 2, y + height / 2}; }
  constexpr bool holds(Point p) const {
    return p.x >= x && p.x < right() && p.y >= y && p.y < bottom();
  }
  constexpr bool holds(const Rect& inner) const {
    return inner.x >= x && inner.y >= y && inner.right() <= right() && inner.bottom() <= bottom();
  }
  constexpr Rect inset(int by_x, int by_y) const {
    return {x + by_x, y + by_y, width - 2 * by_x, height - 2 * by_y};
  }
};

constexpr Rect from_edges(int left, int top, int right, int bottom) {
  return {left, top, right - left, bottom - top};
}

/// Empty when the two do not meet.
constexpr Rect intersection(const Rect& a, const Rect& b) {
  return from_edges(std::max(a.x, b.x), std::max(a.y, b.y), std::min(a.right(), b.right()),
                    std::min(a.bottom(), b.bottom()));
}

constexpr bool meet(const Rect& a, const Rect& b) {
  return !intersection(a, b).empty();
}

} // namespace landfall::render
