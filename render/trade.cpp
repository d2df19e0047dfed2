#include "render/lane.hpp"

namespace landfall::render {

namespace {

/// Steps join notes that follow each other.
void draw_call(Pen& pen, const Lane& lane, const LaneGeometry& geometry, const LaneRows& rows,
               const Scale& scale, Color color, Color panel) {
  const int thick = scale.px(4, 2), thin = scale.px(2, 1);
  const CallNote* before = nullptr;
  for (const CallNote& note : lane.call) {
    const int x = geometry.x(note.from), y = rows.height(note.height);
    const Color ink = note.faint ? mix(panel, color, 0.7) : color;
    pen.fill({x, y - thick / 2, std::max(geometry.x(note.to) - x, thick), thick}, ink);
    if (before != nullptr && std::abs(before->to - note.from) < 0.01) {
      const int y0 = rows.height(before->height);
      pen.fill(from_edges(x, std::min(y, y0), x + thin, std::max(y, y0)), mix(panel, color, 0.7));
    }
    before = &note;
  }
}

void draw_answer(Pen& pen, const AnswerNote& note, const LaneGeometry& geometry,
                 const LaneRows& rows, const Scale& scale, const Palette& colors) {
  const Point at{geometry.x(note.beat), rows.height(note.height)};
  const Point meant{geometry.x(note.expected_beat), rows.height(note.expected_height)};
  const int bar = scale.px(5, 2), tick = scale.px(2, 1), gap = scale.px(3, 2);
  const Rect late = from_edges(std::min(at.x, meant.x), at.y - bar / 2, std::max(at.x, meant.x),
                               at.y - bar / 2 + bar);
  const Rect off = from_edges(at.x - tick / 2, std::min(at.y, meant.y), at.x - tick / 2 + tick,
                              std::max(at.y, meant.y));
  const float radius = std::max(4.0F, scale.exact(11));
  if (!late.empty())
    pen.fill(late.inset(0, -gap), colors.panel); // apart from the contour below
  if (!off.empty())
    pen.fill(off.inset(-gap, 0), colors.panel);
  pen.add(Disc{at, radius + static_cast<float>(gap), colors.panel});
  pen.fill(late, note.right ? colors.sand : colors.text);
  pen.fill(off, colors.text);
  pen.add(Disc{at, radius, note.right ? colors.sand : colors.panel});
  if (!note.right)
    pen.add(Ring{at, radius - 1, std::max(1.5F, scale.exact(3)), colors.text});
}

/// Words stand above their note, and give way where two would meet.
void draw_words(Pen& pen, const Lane& lane, const LaneGeometry& geometry, const LaneRows& rows,
                const Scale& scale, const Palette& colors) {
  const Setting setting{Face::regular, scale.text(type::small), colors.quiet};
  int free_from = 0;
  for (const AnswerNote& note : lane.answer) {
    const int x = geometry.x(note.beat) + scale.px(18);
    if (note.word.empty() || x < free_from)
      continue;
    const int y =
        std::max(rows.height(note.height) - scale.px(12), rows.trace_top + pen.cap(setting));
    const int width = scale.px(4, 2), line = geometry.line_x() - width / 2;
    if (x < line + width && x + pen.width(setting, note.word) > line) // the line stops for it
      pen.fill({line, y - setting.size, width, setting.size * 4 / 3}, colors.panel);
    free_from = x + pen.write(setting, {x, y}, note.word) + scale.px(space::small);
  }
}

} // namespace

void draw_trade(Pen& pen, const Frame& frame, const LaneGeometry& geometry, const LaneRows& rows,
                const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  draw_call(pen, frame.lane, geometry, rows, scale, colors.tide, colors.panel);
  for (const AnswerNote& note : frame.lane.answer)
    draw_answer(pen, note, geometry, rows, scale, colors);
  draw_words(pen, frame.lane, geometry, rows, scale, colors);
}

} // namespace landfall::render
