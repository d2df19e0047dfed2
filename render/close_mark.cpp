#include "render/close_mark.hpp"

namespace landfall::render {
namespace {

constexpr double cross = 0.19; ///< Half its side, of the square around it.

/// The middle of the heading's right end.
Point anchor(const Frame& frame, const Bands& b, const Scale& scale) {
  const int margin = scale.px(space::margin);
  if (std::holds_alternative<PlacesPage>(frame.page))
    return {b.note.right() - margin, b.note.middle().y};
  if (std::holds_alternative<EditPage>(frame.page))
    return {b.page.right() - margin, b.page.y + Scale::line(scale.text(type::body)) / 2};
  const bool beside = b.page.x > 0;
  const int title = scale.display(type::page_title);
  return {b.page.right() - scale.px(beside ? space::large : space::margin),
          b.page.y + scale.px(space::large) + title - title * 7 / 20};
}

} // namespace

int close_side(int heading, const Scale& scale) {
  return std::max({heading, scale.px(40), 22});
}

Rect close_mark(const Frame& frame, const Bands& b, const Scale& scale) {
  if (b.page.empty())
    return {};
  const bool on_lane_side = on_board(frame.page);
  const int side =
      close_side(on_lane_side ? scale.text(type::body) : scale.display(type::page_title), scale);
  const Point right = anchor(frame, b, scale);
  const int reach = static_cast<int>(side * cross);
  return {right.x - reach - side / 2, right.y - side / 2, side, side};
}

void draw_close_mark(Pen& pen, const Frame& frame, const Bands& b, const Scale& scale) {
  const Rect mark = close_mark(frame, b, scale);
  if (mark.empty())
    return;
  const int reach = static_cast<int>(mark.width * cross);
  const Point m = mark.middle();
  const float stroke = std::max(1.5F, scale.exact(3));
  const Color color = palette(frame.theme).quiet;
  pen.add(Line{{m.x - reach, m.y - reach}, {m.x + reach, m.y + reach}, stroke, color});
  pen.add(Line{{m.x - reach, m.y + reach}, {m.x + reach, m.y - reach}, stroke, color});
}

} // namespace landfall::render
