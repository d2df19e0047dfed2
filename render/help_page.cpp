#include "render/pages.hpp"

#include <span>

namespace landfall::render {

namespace {

/// A line of a column: a section's name, a row, or nothing.
struct Line {
  const HelpSection* heading = nullptr;
  const HelpRow* row = nullptr;
};

/// The sections one below the other, parted by an empty line. Kept `whole`, a section that would be
/// broken at the end of a column begins in the next, unless it is longer than a column.
std::vector<Line> lines_of(const HelpPage& page, int column, bool whole) {
  std::vector<Line> out;
  auto room = [&] { return column - static_cast<int>(out.size()) % column; };
  for (const HelpSection& section : page.sections) {
    const int needed = static_cast<int>(section.rows.size()) + 1;
    const bool top = room() == column;
    if (!top && (whole && needed <= column ? needed + 1 > room() : room() < 4))
      out.resize(out.size() + static_cast<std::size_t>(room()));
    else if (!top)
      out.push_back({});
    out.push_back({&section, nullptr});
    for (const HelpRow& row : section.rows)
      out.push_back({nullptr, &row});
  }
  return out;
}

struct HelpPainter {
  Pen& pen;
  const HelpPage& page;
  const Palette& colors;
  const Rect rect;
  const int body;
  const int columns;
  const bool whole;

  int tallest() const { return std::max(rect.height / Scale::line(body), 1); }
  int column_width() const { return rect.width / columns; }

  bool fits(int column) const {
    return static_cast<int>(lines_of(page, column, whole).size()) <= column * columns;
  }

  /// The shortest columns that hold everything, so that they are balanced.
  int column_lines() const {
    int column = tallest();
    for (int shorter = column; shorter > 4; --shorter)
      if (fits(shorter))
        column = shorter;
    return column;
  }

  /// Room for the keys of one column, so that a long key narrows its own column's texts only.
  int key_width(std::span<const Line> lines) const {
    const Setting key{Face::semibold, body, colors.text};
    int widest = 0;
    for (const Line& line : lines)
      if (line.row != nullptr)
        widest = std::max(widest, pen.width(key, line.row->key));
    return std::min(widest, column_width() * 2 / 5) + body * 4 / 5;
  }

  void write_line(const Line& line, Point at, int indent) {
    const int room = column_width() - body;
    if (line.heading != nullptr)
      pen.write_within({Face::bold, body, colors.sand}, at, line.heading->title, room);
    if (line.row == nullptr)
      return;
    pen.write_within({Face::semibold, body, colors.text}, at, line.row->key, indent - body / 3);
    pen.write_within({Face::regular, body, colors.quiet}, {at.x + indent, at.y}, line.row->text,
                     room - indent);
  }

  void draw_column(std::span<const Line> lines, int column, int x) {
    lines = lines.first(std::min(lines.size(), static_cast<std::size_t>(column)));
    const int indent = key_width(lines);
    for (std::size_t i = 0; i < lines.size(); ++i)
      write_line(lines[i], {x, rect.y + static_cast<int>(i) * Scale::line(body) + body}, indent);
  }

  void draw() {
    const int column = column_lines();
    const std::vector<Line> all = lines_of(page, column, whole);
    const int hidden = static_cast<int>(all.size()) - column * columns;
    const int skip = std::clamp(page.scroll, 0, std::max(hidden, 0));
    for (int c = 0; c < columns; ++c)
      draw_column(
          std::span(all).subspan(std::min(all.size(), static_cast<std::size_t>(c * column + skip))),
          column, rect.x + c * column_width());
    if (skip < hidden)
      pen.write({Face::semibold, body, colors.text}, {rect.right(), rect.y - body}, "more below",
                Align::right);
  }
};

} // namespace

void draw_help(Pen& pen, const HelpPage& page, const Palette& colors, const Rect& rect,
               const Scale& scale) {
  const int margin = scale.px(space::margin);
  const Setting title{Face::bold, scale.display(type::page_title), colors.text};
  const int baseline = rect.y + scale.px(space::large) + title.size;
  pen.write_within(title, {rect.x + margin, baseline}, page.title, rect.width * 2 / 3);
  const Rect inner = from_edges(rect.x + margin, baseline + title.size * 3 / 5,
                                rect.right() - margin, rect.bottom() - margin / 2);
  const int wanted = scale.text(type::body);
  const int least = std::max(static_cast<int>(type::least) + 1, wanted * 7 / 10);
  for (int body = wanted; body > 0; --body) {
    const int columns = std::clamp(inner.width / (body * 20), 1, 4);
    for (const bool whole : {true, false}) {
      HelpPainter painter{pen, page, colors, inner, body, columns, whole};
      if (painter.fits(painter.tallest()) || (body <= least && !whole))
        return painter.draw();
    }
  }
}

} // namespace landfall::render
