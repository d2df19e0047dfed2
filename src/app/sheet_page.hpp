#pragma once

#include "render/metrics.hpp"

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

/// A handout on paper. Lengths are points of 1/72 inch, from the top left corner; greys run from 0,
/// black, to 1, white.
namespace landfall::app::sheet {

struct Bounds {
  double left = 0, top = 0, right = 0, bottom = 0;

  bool operator==(const Bounds&) const = default;
};

struct Line {
  double x1 = 0, y1 = 0, x2 = 0, y2 = 0;
  double width = 0.6;
  double grey = 0;
};

/// A filled rectangle.
struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  double grey = 0;
};

struct Disc {
  double x = 0, y = 0, radius = 1;
  double fill = 0;
  double stroke = 0; ///< Width of its black outline; 0 for none.
  bool dashed = false;
};

/// A Bezier curve: its ends and what it leans to.
struct Curve {
  std::array<double, 8> points{}; ///< x and y by turns: start, two controls, end.
  double width = 0.6;
};

/// One run in one face, from the left end of its baseline.
struct Words {
  double x = 0, y = 0;
  double size = 10;
  render::Face face = render::Face::regular;
  std::string text;
  double width = 0; ///< As measured.
  double grey = 0;
};

using Mark = std::variant<Box, Line, Disc, Curve, Words>;

/// All that a mark covers; of words the letters' height and a little below the baseline.
Bounds bounds(const Mark& mark);

/// The same mark elsewhere.
Mark moved(Mark mark, double x, double y);

/// Something that stands on one page: a line of the chart, a chord with its diagrams.
struct Region {
  std::string what;
  Bounds bounds;
};

struct Page {
  std::vector<Mark> marks; ///< Later ones lie above earlier ones.
  std::vector<Region> regions;
};

struct Paper {
  double width = 595.28, height = 841.89; ///< A4.
  double margin = 45;

  double room() const { return width - 2 * margin; }
};

inline constexpr Paper letter{612, 792};

struct Sheet {
  std::string title;
  Paper paper;
  std::vector<Page> pages; ///< At least one.
};

} // namespace landfall::app::sheet
