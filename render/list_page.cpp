#include "render/pages.hpp"

namespace landfall::render {

namespace {

int sentence_lines(const ListPage& page, int characters) {
  int lines = 0;
  for (const std::string& sentence : page.lines)
    lines += static_cast<int>(sentence.size()) / std::max(characters, 8) + 1;
  return lines;
}

/// Keeps the row with the focus in view: in the middle, unless the rows are to stay where they are.
int first_row(const ListPage& page, int shown) {
  const int count = static_cast<int>(page.rows.size());
  const int focus = std::clamp(page.selected, 0, std::max(count - 1, 0));
  const int wanted = page.first ? std::clamp(*page.first, std::max(focus - shown + 1, 0), focus)
                                : focus - shown / 2;
  return std::clamp(wanted, 0, std::max(count - shown, 0));
}

/// A row's width at most, in its text's size: beyond it the eye loses the line to what stands at
/// its end.
constexpr int measure = 46;

} // namespace

// The room for sentences is counted by characters of half an em, which is more than they take.
ListGeometry::ListGeometry(const ListPage& page, const Rect& rect, const Scale& scale) {
  const int body = scale.text(type::body);
  margin = scale.px(page.beside ? space::large : space::margin);
  row_height = Scale::line(body) + scale.px(space::row);
  const int title = scale.display(type::page_title);
  title_baseline = rect.y + scale.px(space::large) + title;
  const Rect inner = from_edges(rect.x + margin, title_baseline + title * 3 / 5,
                                rect.right() - margin, rect.bottom() - margin / 2);
  const int foot = page.beside && page.hints.empty() ? 0 : Scale::line(body);
  hints = {inner.x, inner.bottom() - foot, inner.width, foot};
  const bool has_preview = (!page.preview.empty() || !page.chart.empty()) && !page.beside;
  const int column = has_preview ? inner.width * 11 / 20 : std::min(inner.width, body * measure);
  const int lines = sentence_lines(page, column * 2 / body);
  text = {inner.x, inner.y, column, lines * Scale::line(body) + (lines > 0 ? body / 2 : 0)};
  text.height = std::min(text.height, inner.height * 2 / 3);
  query = {inner.x, text.bottom(), column, page.has_query ? row_height : 0};
  const int top = query.bottom() + (page.has_query ? body / 2 : 0);
  rows = from_edges(inner.x, top, inner.x + column, hints.y - (foot > 0 ? body / 3 : 0));
  preview = has_preview
                ? from_edges(rows.right() + 2 * margin, inner.y, inner.right(), rows.bottom())
                : Rect{};
  shown = std::min(static_cast<int>(page.rows.size()), std::max(rows.height / row_height, 0));
  first = first_row(page, shown);
}

Rect ListGeometry::row(int index) const {
  return {rows.x, rows.y + (index - first) * row_height, rows.width, row_height};
}

std::optional<int> ListGeometry::at(Point point) const {
  if (!rows.holds(point))
    return std::nullopt;
  const int index = first + (point.y - rows.y) / row_height;
  return index < first + shown ? std::optional(index) : std::nullopt;
}

} // namespace landfall::render
