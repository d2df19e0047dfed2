#include "render/edit_page.hpp"

#include <algorithm>

namespace landfall::render {
namespace {

int line_size(const Scale& scale) {
  return scale.text(type::page_title) * 9 / 10;
}

/// The part of a text that fits, so that the caret's place is in it; and how much was left out.
std::pair<std::string_view, std::size_t> around_caret(const Pen& pen, const Setting& setting,
                                                      std::string_view text, std::size_t caret,
                                                      int room) {
  std::size_t from = 0;
  while (from < caret && pen.width(setting, text.substr(from, caret - from)) > room)
    do
      ++from;
    while (from < text.size() && (static_cast<unsigned char>(text[from]) & 0xC0U) == 0x80U);
  return {text.substr(from), from};
}

void draw_caret(Pen& pen, const Setting& setting, Point baseline, const Palette& colors,
                const Scale& scale) {
  const int height = setting.size * 6 / 5;
  pen.fill({baseline.x, baseline.y - height * 4 / 5, std::max(2, scale.px(3)), height},
           colors.tide);
}

/// Text, or its hint, with the caret where it has one.
void draw_text(Pen& pen, const Setting& setting, const std::string& text, const std::string& hint,
               std::optional<std::size_t> caret, const Rect& row, const Palette& colors,
               const Scale& scale) {
  const int baseline = row.y + row.height / 2 + pen.cap(setting) / 2;
  const auto [shown, from] =
      around_caret(pen, setting, text, caret.value_or(0), row.width - scale.px(4));
  Setting ink = setting;
  if (text.empty())
    ink.color = mix(colors.ground, colors.quiet, 0.85);
  pen.write_within(ink, {row.x, baseline}, text.empty() ? std::string_view(hint) : shown,
                   row.width);
  if (caret)
    draw_caret(pen, setting, {row.x + pen.width(setting, shown.substr(0, *caret - from)), baseline},
               colors, scale);
}

} // namespace

EditGeometry::EditGeometry(const EditPage& page, const Rect& rect, const Scale& scale) {
  const int body = Scale::line(scale.text(type::body));
  const int small = Scale::line(scale.text(type::small));
  const int margin = scale.px(space::margin);
  const Rect inner = from_edges(rect.x + margin, rect.y, rect.right() - margin, rect.bottom());
  heading = {inner.x, inner.y, inner.width, body};
  field_row = {inner.x, heading.bottom() + scale.px(space::small), inner.width, small + body};
  field_width = inner.width / std::max(static_cast<int>(page.fields.size()), 1);
  foot = {inner.x, inner.bottom() - body, inner.width, body};
  lines = from_edges(inner.x, field_row.bottom() + scale.px(space::medium), inner.right(),
                     foot.y - scale.px(space::small));
  line_height = std::max(Scale::line(line_size(scale)), 1);
}

Rect EditGeometry::field(int index) const {
  return {field_row.x + index * field_width, field_row.y, field_width * 9 / 10, field_row.height};
}

std::optional<int> EditGeometry::at(const EditPage& page, Point point) const {
  const int count = static_cast<int>(page.fields.size());
  for (int i = 0; i < count; ++i)
    if (field(i).holds(point))
      return i;
  return lines.holds(point) ? std::optional(count) : std::nullopt;
}

namespace {

void draw_field(Pen& pen, const EditField& field, const Rect& rect, const Palette& colors,
                const Scale& scale) {
  const Setting label{Face::regular, scale.text(type::small), colors.quiet};
  const Setting value{Face::semibold, scale.text(type::body), colors.text};
  const int small = Scale::line(label.size);
  pen.write_centred(label, {rect.x, rect.y + small / 2},
                    pen.shortened(label, field.label, rect.width));
  draw_text(pen, value, field.text, field.hint, field.caret,
            {rect.x, rect.y + small, rect.width, rect.height - small}, colors, scale);
  const bool focus = field.caret.has_value();
  pen.fill({rect.x, rect.bottom(), rect.width, std::max(1, scale.px(focus ? 3 : 1))},
           focus ? colors.tide : colors.hairline);
}

/// As many as there is room for, the caret's among them.
void draw_lines(Pen& pen, const EditPage& page, const EditGeometry& at, const Palette& colors,
                const Scale& scale) {
  const Setting setting{Face::semibold, line_size(scale), colors.text};
  const int shown = std::max(at.lines.height / at.line_height, 1);
  const int count = static_cast<int>(page.lines.size());
  const int focus = page.caret ? static_cast<int>(page.caret->line) : 0;
  const int first = std::clamp(focus - shown + 1, 0, std::max(count - shown, 0));
  for (int i = first; i < std::min(first + shown, count); ++i) {
    std::optional<std::size_t> caret;
    if (page.caret && static_cast<int>(page.caret->line) == i)
      caret = page.caret->bytes;
    const Rect row{at.lines.x, at.lines.y + (i - first) * at.line_height, at.lines.width,
                   at.line_height};
    if (row.bottom() <= at.lines.bottom() + at.line_height / 4)
      draw_text(pen, setting, page.lines[static_cast<std::size_t>(i)],
                count == 1 ? page.lines_hint : "", caret, row, colors, scale);
  }
}

} // namespace

void draw_edit(Pen& pen, const EditPage& page, const Palette& colors, const Rect& rect,
               const Scale& scale) {
  const EditGeometry at(page, rect, scale);
  const Setting title{Face::bold, scale.text(type::body), colors.text};
  const Setting quiet{Face::regular, scale.text(type::body), colors.quiet};
  const int counted = pen.width(quiet, page.count);
  pen.write_centred(title, {at.heading.x, at.heading.middle().y},
                    pen.shortened(title, page.title, at.heading.width - counted - title.size));
  pen.write_centred(quiet, {at.heading.right(), at.heading.middle().y}, page.count, Align::right);
  for (std::size_t i = 0; i < page.fields.size(); ++i)
    draw_field(pen, page.fields[i], at.field(static_cast<int>(i)), colors, scale);
  draw_lines(pen, page, at, colors, scale);
  const Setting problem{Face::semibold, quiet.size, colors.text};
  if (!page.problem.empty())
    pen.write_centred(problem, {at.foot.x, at.foot.middle().y},
                      pen.shortened(problem, page.problem, at.foot.width));
}

} // namespace landfall::render
