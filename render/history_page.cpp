#include "render/pages.hpp"

namespace landfall::render {

namespace {

struct HistoryPainter {
  Pen& pen;
  const HistoryPage& page;
  const Palette& colors;
  const Scale& scale;

  int size() const { return scale.text(type::small); }
  int line() const { return Scale::line(size()); }
  Setting quiet() const { return {Face::regular, size(), colors.quiet}; }
  Setting plain() const { return {Face::regular, size(), colors.text}; }

  Rect headed(const Rect& area, std::string_view title, std::string_view about);
  void map(const Rect& area);
  void spot(const HistorySpot& spot, const Rect& cell, bool labelled);
  void degrees(const Rect& area);
  void columns(const Rect& area, const std::vector<HistoryBar>& bars, Color color);
};

/// Writes a heading, and returns what is left below it.
Rect HistoryPainter::headed(const Rect& area, std::string_view title, std::string_view about) {
  const Setting heading{Face::semibold, size(), colors.text};
  const int y = area.y + line() / 2;
  const auto shown = pen.shortened(heading, title, area.width);
  pen.write_centred(heading, {area.x, y}, shown);
  const int used = pen.width(heading, shown) + size();
  pen.write_centred(quiet(), {area.x + used, y}, pen.shortened(quiet(), about, area.width - used));
  return from_edges(area.x, area.y + line() + scale.px(8), area.right(), area.bottom());
}

void HistoryPainter::spot(const HistorySpot& spot, const Rect& cell, bool labelled) {
  if (!(spot.amount > 0))
    return;
  const int below = labelled ? line() : 0;
  const int room = std::min(cell.width, cell.height - below) / 2 - scale.px(3, 1);
  if (room < 3)
    return;
  const Point centre{cell.middle().x, cell.y + (cell.height - below) / 2};
  const auto radius =
      static_cast<float>(std::max(3.0, room * std::sqrt(between(0.0, spot.amount, 1.0))));
  const float stroke = std::max(1.0F, scale.exact(space::hair));
  pen.add(Ring{centre, radius - 1, stroke, colors.quiet});
  const float full = std::max(1.5F, radius - 2 - stroke / 2); // the two never touch
  if (spot.landed > 0)
    pen.add(Disc{centre, full * static_cast<float>(std::sqrt(between(0.0, spot.landed, 1.0))),
                 colors.sand});
  if (labelled && pen.width(plain(), spot.label) <= cell.width - size() / 2)
    pen.write_centred(plain(), {cell.middle().x, cell.bottom() - below / 2}, spot.label,
                      Align::middle);
}

void HistoryPainter::map(const Rect& area) {
  const Rect rest = headed(area, "Key by place", "ring: played; disc: landed");
  int names = 0;
  for (const auto& row : page.map.rows)
    names = std::max(names, pen.width(quiet(), row));
  names = std::min(names, rest.width * 3 / 10) + size();
  const int wide = std::max(size() * 3 / 2, 20), high = line();
  const int columns = std::clamp(static_cast<int>(page.map.columns.size()), 0,
                                 std::max(0, (rest.width - names) / wide));
  const int rows = std::clamp(static_cast<int>(page.map.rows.size()), 0,
                              std::max(0, (rest.height - line()) / high));
  if (columns == 0 || rows == 0)
    return;
  const int width = std::min((rest.width - names) / columns, scale.px(150, wide));
  const int height = std::min((rest.height - line()) / rows, scale.px(120, high));
  for (int x = 0; x < columns; ++x)
    pen.write_centred(
        quiet(), {rest.x + names + x * width + width / 2, rest.y + line() / 2},
        pen.shortened(quiet(), page.map.columns[static_cast<std::size_t>(x)], width - size() / 4),
        Align::middle);
  for (int y = 0; y < rows; ++y) {
    const int top = rest.y + line() + y * height;
    pen.write_centred(
        quiet(), {rest.x, top + height / 2},
        pen.shortened(quiet(), page.map.rows[static_cast<std::size_t>(y)], names - size()));
    for (int x = 0; x < columns; ++x) {
      const auto at =
          static_cast<std::size_t>(y) * page.map.columns.size() + static_cast<std::size_t>(x);
      if (at < page.map.spots.size())
        spot(page.map.spots[at], {rest.x + names + x * width, top, width, height},
             height >= line() * 5 / 2);
    }
  }
}

void HistoryPainter::degrees(const Rect& area) {
  if (page.degrees.empty())
    return;
  const Rect rest = headed(area, "What you land on", "");
  int names = 0, words = 0;
  for (const auto& bar : page.degrees) {
    names = std::max(names, pen.width(quiet(), bar.name));
    words = std::max(words, pen.width(plain(), bar.words));
  }
  names = std::min(names, rest.width * 2 / 5) + size() / 2;
  const int room = rest.width - names - words - size() / 2;
  const int step = line() * 5 / 4;
  int y = rest.y + step / 2;
  for (const auto& bar : page.degrees) {
    if (y + step / 2 > rest.bottom() || room <= 0)
      return;
    pen.write_centred(quiet(), {rest.x, y}, pen.shortened(quiet(), bar.name, names - size() / 2));
    const int length = static_cast<int>(std::lround(room * between(0.0, bar.length, 1.0)));
    const int thick = std::max(3, line() / 2);
    pen.fill({rest.x + names, y - thick / 2, length, thick}, colors.sand);
    pen.write_centred(plain(), {rest.x + names + length + size() / 2, y},
                      pen.shortened(plain(), bar.words, words));
    y += step;
  }
}

void HistoryPainter::columns(const Rect& area, const std::vector<HistoryBar>& bars, Color color) {
  const int count = static_cast<int>(bars.size());
  const Rect plot = from_edges(area.x, area.y, area.right(), area.bottom() - line());
  if (count == 0 || plot.height < 4 || plot.width < count * 2)
    return;
  for (int i = 0; i < count; ++i) {
    const int from = plot.x + plot.width * i / count, to = plot.x + plot.width * (i + 1) / count;
    const double share = between(0.0, bars[static_cast<std::size_t>(i)].length, 1.0);
    const int height = static_cast<int>(std::lround(plot.height * share));
    pen.fill({from, plot.bottom() - height, std::max(1, (to - from) * 2 / 3), height}, color);
  }
  pen.fill({plot.x, plot.bottom(), plot.width, scale.px(space::hair, 1)}, colors.hairline);
  const int y = plot.bottom() + line() / 2 + scale.px(4);
  const int half = plot.width / 2 - size() / 2;
  if (y + line() / 2 > area.bottom() + line() / 2)
    return;
  pen.write_centred(quiet(), {plot.x, y}, pen.shortened(quiet(), bars.front().name, half));
  if (count > 1)
    pen.write_centred(quiet(), {plot.right(), y}, pen.shortened(quiet(), bars.back().name, half),
                      Align::right);
}

} // namespace

void draw_history(Pen& pen, const HistoryPage& page, const Palette& colors, const Rect& rect,
                  const Scale& scale) {
  HistoryPainter painter{pen, page, colors, scale};
  const Rect inner = draw_heading(pen, page.title, page.subtitle, colors, rect, scale);
  if (page.map.columns.empty())
    return;
  const int gap = scale.px(space::margin);
  const int left = inner.width * 3 / 5, upper = inner.height * 3 / 5;
  const Rect low = from_edges(inner.x, inner.y + upper + gap / 2, inner.right(), inner.bottom());
  painter.map({inner.x, inner.y, left - gap, upper});
  painter.degrees(from_edges(inner.x + left, inner.y, inner.right(), inner.y + upper));
  painter.columns(painter.headed({low.x, low.y, left - gap, low.height}, "Landed, by weeks", ""),
                  page.weeks, colors.sand);
  painter.columns(painter.headed(from_edges(low.x + left, low.y, low.right(), low.bottom()),
                                 "Played, by days", page.longest_day),
                  page.days, colors.tide);
}

} // namespace landfall::render
