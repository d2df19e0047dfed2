#include "render/pages.hpp"

namespace landfall::render {

namespace {

int sentence_lines(const ListPage& page, int characters) {
  int lines = 0;
  for (const std::string& sentence : page.lines)
    lines += static_cast<int>(sentence.size()) / std::max(characters, 8) + 1;
  return lines;
}

/// Keeps the row with the focus in view, with a neighbour on either side where there is one.
int first_row(const ListPage& page, int shown) {
  const int count = static_cast<int>(page.rows.size());
  const int focus = std::clamp(page.selected, 0, std::max(count - 1, 0));
  return std::clamp(focus - shown / 2, 0, std::max(count - shown, 0));
}

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
  const bool has_preview = !page.preview.empty() && !page.beside;
  const int column = has_preview ? inner.width * 11 / 20 : inner.width;
  const int lines = sentence_lines(page, column * 2 / body);
  text = {inner.x, inner.y, column, lines * Scale::line(body) + (lines > 0 ? body / 2 : 0)};
  text.height = std::min(text.height, inner.height * 2 / 3);
  query = {inner.x, text.bottom(), column, page.has_query ? row_height : 0};
  const int top = query.bottom() + (page.has_query ? body / 2 : 0);
  rows = from_edges(inner.x, top, inner.x + column, inner.bottom());
  preview = has_preview
                ? from_edges(rows.right() + 2 * margin, inner.y, inner.right(), inner.bottom())
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
