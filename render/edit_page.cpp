#include "render/edit_page.hpp"

#include "render/close_mark.hpp"
#include "render/hints.hpp"

#include <algorithm>

namespace landfall::render {
namespace {

constexpr std::size_t most_shown = 400; ///< Bytes before the caret: no window has room for more.

int line_size(const Scale& scale) {
  return scale.text(type::page_title) * 9 / 10;
}

/// The part of a text that fits, so that the caret's place is in it; and how much was left out.
std::pair<std::string_view, std::size_t> around_caret(const Pen& pen, const Setting& setting,
                                                      std::string_view text, std::size_t caret,
                                                      int room) {
  const auto continues = [&](std::size_t at) {
    return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
  };
  std::size_t from = caret > most_shown ? caret - most_shown : 0;
  while (continues(from))
    ++from;
  while (from < caret && pen.width(setting, text.substr(from, caret - from)) > room)
    do
      ++from;
    while (continues(from));
  return {text.substr(from, 2 * most_shown), from};
}

void draw_caret(Pen& pen, const Setting& setting, Point baseline, const Palette& colors,
                const Scale& scale) {
  const int height = setting.size * 6 / 5;
  pen.fill({baseline.x, baseline.y - height * 4 / 5, std::max(2, scale.px(3)), height},
           colors.tide);
}

int text_room(const Rect& row, const Scale& scale) {
  return row.width - scale.px(4);
}

Setting value_setting(const Palette& colors, const Scale& scale) {
  return {Face::semibold, scale.text(type::body), colors.text};
}

Setting line_setting(const Palette& colors, const Scale& scale) {
  return {Face::semibold, line_size(scale), colors.text};
}

} // namespace

void draw_field_text(Pen& pen, const Setting& setting, std::string_view text, std::string_view hint,
                     std::optional<std::size_t> caret, const Rect& row, const Palette& colors,
                     const Scale& scale) {
  const int baseline = row.y + row.height / 2 + pen.cap(setting) / 2;
  const auto [shown, from] =
      around_caret(pen, setting, text, caret.value_or(0), text_room(row, scale));
  Setting ink = setting;
  if (text.empty())
    ink = {Face::regular, setting.size, colors.quiet};
  const int beside = text.empty() && caret ? scale.px(12, 6) : 0; // the caret, before the hint
  pen.write_within(ink, {row.x + beside, baseline}, text.empty() ? hint : shown,
                   row.width - beside);
  if (caret)
    draw_caret(pen, setting, {row.x + pen.width(setting, shown.substr(0, *caret - from)), baseline},
               colors, scale);
}

std::size_t byte_at(const Pen& pen, const Setting& setting, std::string_view text,
                    std::optional<std::size_t> caret, const Rect& row, const Scale& scale, int x) {
  const auto [shown, from] =
      around_caret(pen, setting, text, caret.value_or(0), text_room(row, scale));
  // Nearer to a character's right end, it is behind it.
  return from + character_at(pen, setting, shown, x - row.x + setting.size / 4);
}

EditGeometry::EditGeometry(const EditPage& page, const Rect& rect, const Scale& scale) {
  const int body = Scale::line(scale.text(type::body));
  const int small = Scale::line(scale.text(type::small));
  const int margin = scale.px(space::margin);
  const Rect inner = from_edges(rect.x + margin, rect.y, rect.right() - margin, rect.bottom());
  const int mark = close_side(scale.text(type::body), scale);
  heading = {inner.x, inner.y, inner.width - mark, body};
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

/// Of a field, below its label.
Rect value_row(const Rect& field, const Scale& scale) {
  const int small = Scale::line(scale.text(type::small));
  return {field.x, field.y + small, field.width, field.height - small};
}

/// The lines that are shown, the caret's among them.
struct LinesShown {
  int first, end;
};

LinesShown lines_shown(const EditPage& page, const EditGeometry& at) {
  const int shown = std::max(at.lines.height / at.line_height, 1);
  const int count = static_cast<int>(page.lines.size());
  const int focus = page.caret ? static_cast<int>(page.caret->line) : 0;
  const int first = std::clamp(focus - shown + 1, 0, std::max(count - shown, 0));
  return {first, std::min(first + shown, count)};
}

Rect line_row(const EditGeometry& at, int index, const LinesShown& shown) {
  return {at.lines.x, at.lines.y + (index - shown.first) * at.line_height, at.lines.width,
          at.line_height};
}

std::optional<std::size_t> caret_in_line(const EditPage& page, int line) {
  return page.caret && static_cast<int>(page.caret->line) == line ? std::optional(page.caret->bytes)
                                                                  : std::nullopt;
}

void draw_field(Pen& pen, const EditField& field, const Rect& rect, const Palette& colors,
                const Scale& scale) {
  const Setting label{Face::regular, scale.text(type::small), colors.quiet};
  const int small = Scale::line(label.size);
  pen.write_centred(label, {rect.x, rect.y + small / 2},
                    pen.shortened(label, field.label, rect.width));
  draw_field_text(pen, value_setting(colors, scale), field.text, field.hint, field.caret,
                  value_row(rect, scale), colors, scale);
  const bool focus = field.caret.has_value();
  pen.fill({rect.x, rect.bottom(), rect.width, std::max(1, scale.px(focus ? 3 : 1))},
           focus ? colors.tide : colors.hairline);
}

void draw_lines(Pen& pen, const EditPage& page, const EditGeometry& at, const Palette& colors,
                const Scale& scale) {
  const auto shown = lines_shown(page, at);
  for (int i = shown.first; i < shown.end; ++i) {
    const Rect row = line_row(at, i, shown);
    if (row.bottom() <= at.lines.bottom() + at.line_height / 4)
      draw_field_text(pen, line_setting(colors, scale), page.lines[static_cast<std::size_t>(i)],
                      page.lines.size() == 1 ? page.lines_hint : "", caret_in_line(page, i), row,
                      colors, scale);
  }
}

} // namespace

std::optional<EditPlace> edit_place(const Pen& pen, const EditPage& page, const Rect& rect,
                                    const Scale& scale, Point point) {
  const EditGeometry at(page, rect, scale);
  const auto found = at.at(page, point);
  const int fields = static_cast<int>(page.fields.size());
  if (!found)
    return std::nullopt;
  if (*found < fields) {
    const auto& field = page.fields[static_cast<std::size_t>(*found)];
    return EditPlace{*found, byte_at(pen, value_setting({}, scale), field.text, field.caret,
                                     value_row(at.field(*found), scale), scale, point.x)};
  }
  const auto shown = lines_shown(page, at);
  const int line = std::clamp(shown.first + (point.y - at.lines.y) / at.line_height, shown.first,
                              std::max(shown.end - 1, shown.first));
  EditPlace place{fields, 0};
  for (int i = 0; i < line; ++i)
    place.byte += page.lines[static_cast<std::size_t>(i)].size() + 1;
  if (line < static_cast<int>(page.lines.size()))
    place.byte += byte_at(pen, line_setting({}, scale), page.lines[static_cast<std::size_t>(line)],
                          caret_in_line(page, line), line_row(at, line, shown), scale, point.x);
  return place;
}

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
