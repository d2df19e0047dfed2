#include "render/close_mark.hpp"
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

/// The size of the text and the columns that a page of help gets.
struct HelpFit {
  int body = 1;
  int columns = 1;
  int column = 1; ///< Lines of each.
  std::vector<Line> lines;

  /// Rows that do not fit.
  int hidden() const { return std::max(static_cast<int>(lines.size()) - column * columns, 0); }
};

bool fits(const HelpPage& page, int column, int columns, bool whole) {
  return static_cast<int>(lines_of(page, column, whole).size()) <= column * columns;
}

/// The shortest columns that hold everything, so that they are balanced; the tallest, if none do.
HelpFit fit_of(const HelpPage& page, int tallest, int body, int columns, bool whole) {
  int column = tallest;
  for (int shorter = column; shorter > 4; --shorter)
    if (fits(page, shorter, columns, whole))
      column = shorter;
  return {body, columns, column, lines_of(page, column, whole)};
}

/// The largest text with which all of it fits, down to a least size.
HelpFit fit_help(const HelpPage& page, const Rect& inner, const Scale& scale) {
  const int wanted = scale.text(type::body);
  const int least = std::max(static_cast<int>(type::least) + 1, wanted * 7 / 10);
  for (int body = wanted;; --body) {
    const int columns = std::clamp(inner.width / (body * 20), 1, 4);
    const int tallest = std::max(inner.height / Scale::line(body), 1);
    for (const bool whole : {true, false})
      if (fits(page, tallest, columns, whole) || (body <= least && !whole))
        return fit_of(page, tallest, body, columns, whole);
  }
}

Rect help_area(const Rect& rect, const Scale& scale) {
  const int margin = scale.px(space::margin), title = scale.display(type::page_title);
  const int baseline = rect.y + scale.px(space::large) + title;
  return from_edges(rect.x + margin, baseline + title * 3 / 5, rect.right() - margin,
                    rect.bottom() - margin / 2);
}

struct HelpPainter {
  Pen& pen;
  const HelpPage& page;
  const Palette& colors;
  const Rect rect;
  const HelpFit fit;
  const int body = fit.body;

  int column_width() const { return rect.width / fit.columns; }

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
      pen.write_within({Face::bold, body, colors.sand_text}, at, line.heading->title, room);
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

  /// Beside what is shown, in the margin: how much of all that is, and where.
  void draw_bar(int skip) {
    const int width = std::max(2, body / 6), all = fit.column + fit.hidden();
    pen.fill({rect.right() + width * 2, rect.y + rect.height * skip / all, width,
              rect.height * fit.column / all},
             colors.quiet);
  }

  void draw(int words_right) {
    const int skip = std::clamp(page.scroll, 0, fit.hidden());
    for (int c = 0; c < fit.columns; ++c)
      draw_column(std::span(fit.lines).subspan(
                      std::min(fit.lines.size(), static_cast<std::size_t>(c * fit.column + skip))),
                  fit.column, rect.x + c * column_width());
    if (fit.hidden() == 0)
      return;
    pen.write({Face::semibold, body, colors.text}, {words_right, rect.y - body},
              skip < fit.hidden() ? "more below" : "more above", Align::right);
    draw_bar(skip);
  }
};

} // namespace

int help_rows_left(const HelpPage& page, const Rect& rect, const Scale& scale) {
  return fit_help(page, help_area(rect, scale), scale).hidden();
}

std::optional<std::string> help_keys_at(const HelpPage& page, const Rect& rect, const Scale& scale,
                                        Point point) {
  const Rect inner = help_area(rect, scale);
  if (!inner.holds(point))
    return std::nullopt;
  const auto fit = fit_help(page, inner, scale);
  const int column = std::min((point.x - inner.x) / (inner.width / fit.columns), fit.columns - 1);
  const int row = (point.y - inner.y) / Scale::line(fit.body);
  const int skip = std::clamp(page.scroll, 0, fit.hidden());
  const auto index = static_cast<std::size_t>(column * fit.column + skip + row);
  if (row >= fit.column || index >= fit.lines.size() || fit.lines[index].row == nullptr)
    return std::nullopt;
  return fit.lines[index].row->key;
}

void draw_help(Pen& pen, const HelpPage& page, const Palette& colors, const Rect& rect,
               const Scale& scale) {
  const Rect inner = help_area(rect, scale);
  const Setting title{Face::bold, scale.display(type::page_title), colors.text};
  pen.write_within(title, {inner.x, inner.y - title.size * 3 / 5}, page.title, inner.width / 2);
  HelpPainter{pen, page, colors, inner, fit_help(page, inner, scale)}.draw(
      inner.right() - close_side(title.size, scale));
}

} // namespace landfall::render
