#pragma once

#include "render/draw.hpp"
#include "render/style.hpp"

#include <functional>
#include <span>
#include <string>
#include <vector>

namespace landfall::render::checks {

/// A draw list that can be asked what lies under and around its commands.
class Grounds {
public:
  /// `list` must outlive it.
  explicit Grounds(const DrawList& list);

  /// The colours that were there before command `index`: of areas under any quarter of the points,
  /// of strokes that pass below, as strings do, under most; for a mark, of other marks too.
  std::vector<Color> under(std::size_t index, std::span<const Point> points) const;

  /// What a command stands out from least.
  struct Side {
    Color under;
    double contrast = 21.0;
  };
  /// On each side of a stroke, or around an area or under a text; as `eye` has the colours.
  std::vector<Side> sides(std::size_t index, const std::function<Color(Color)>& eye) const;

  /// What of a command is seen; empty where it is clipped away.
  const Rect& seen(std::size_t index) const { return seen_[index]; }

private:
  /// Whether a later area hides a pixel.
  bool covered(std::size_t index, Point p) const;

  const DrawList& list_;
  std::vector<Rect> seen_;
};

/// What a theme's areas, hairlines and the board itself are drawn in: all else is a mark or a word.
bool is_surface(Color color, const Palette& palette);

/// What contrast is asked for: WCAG 2.1's for large text and for marks, and its stricter one for
/// running text.
struct Contrasts {
  double running = 7.0;
  double large = 4.5; ///< From 24 pixels, or 18.66 in bold.
  double mark = 3.0;
};

/// Texts and marks of too little contrast, in words: none may be. A stroke may touch another
/// mark on one of its sides. `palette` is that of the list, `eye` what becomes of its colours.
std::string faint(
    const DrawList& list, const Palette& palette, const Contrasts& least = {},
    const std::function<Color(Color)>& eye = [](Color c) { return c; });

} // namespace landfall::render::checks
