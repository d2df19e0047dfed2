#include "render/pages.hpp"

namespace landfall::render {

namespace {

struct RigPainter {
  Pen& pen;
  const Palette& colors;
  const Scale& scale;

  int size() const { return scale.text(type::small); }
  int line() const { return Scale::line(size()); }
  Setting quiet() const { return {Face::regular, size(), colors.quiet}; }
  Setting plain() const { return {Face::regular, size(), colors.text}; }
  Setting strong() const { return {Face::semibold, size(), colors.text}; }

  void chart(const Rect& area, const RigChart& chart);
  void column(const Rect& plot, const Rect& cell, const RigChart::Column& column, bool named);
  void facts(const Rect& area, const std::vector<RigFact>& facts);
};

void RigPainter::column(const Rect& plot, const Rect& cell, const RigChart::Column& column,
                        bool named) {
  const auto share = between(0.0, column.share, 1.0);
  const int height =
      column.share > 0 ? std::max(1, static_cast<int>(std::lround(plot.height * share))) : 0;
  const int width = std::max(1, cell.width * 2 / 3);
  const int x = cell.x + (cell.width - width) / 2;
  pen.fill({x, plot.bottom() - height, width, height}, colors.tide);
  if (!column.words.empty() && pen.width(plain(), column.words) <= cell.width)
    pen.write_centred(plain(), {cell.middle().x, plot.bottom() - height - line() / 2}, column.words,
                      Align::middle);
  if (named)
    pen.write_centred(quiet(), {cell.middle().x, plot.bottom() + line() / 2 + scale.px(4)},
                      column.name, Align::middle);
}

/// Names are left out evenly where they would meet.
void RigPainter::chart(const Rect& area, const RigChart& chart) {
  const auto title = pen.shortened(strong(), chart.title, area.width);
  pen.write_centred(strong(), {area.x, area.y + line() / 2}, title);
  const int used = pen.width(strong(), title) + size();
  pen.write_centred(quiet(), {area.x + used, area.y + line() / 2},
                    pen.shortened(quiet(), chart.about, area.width - used));
  const Rect plot =
      from_edges(area.x, area.y + line() * 5 / 2, area.right(), area.bottom() - line() * 3 / 2);
  const int count = static_cast<int>(chart.columns.size());
  if (count == 0 || plot.height < 8 || plot.width < count * 3)
    return;
  int widest = 0;
  for (const auto& column : chart.columns)
    widest = std::max(widest, pen.width(quiet(), column.name) + size() / 2);
  const int step = (widest * count + plot.width - 1) / plot.width;
  for (int i = 0; i < count; ++i) {
    const int from = plot.x + plot.width * i / count, to = plot.x + plot.width * (i + 1) / count;
    const bool named = step <= 1 || (i % step == 0 && from + widest <= plot.right());
    column(plot, from_edges(from, plot.y, to, plot.bottom()),
           chart.columns[static_cast<std::size_t>(i)], named);
  }
  pen.fill({plot.x, plot.bottom(), plot.width, scale.px(space::hair, 1)}, colors.hairline);
}

void RigPainter::facts(const Rect& area, const std::vector<RigFact>& facts) {
  int names = 0;
  for (const auto& fact : facts)
    names = std::max(names, pen.width(quiet(), fact.name));
  names = std::min(names, area.width / 2) + size();
  const int step = line() * 3 / 2;
  int y = area.y + line() / 2;
  for (const auto& fact : facts) {
    if (y + line() / 2 > area.bottom())
      return;
    pen.write_centred(quiet(), {area.x, y}, pen.shortened(quiet(), fact.name, names - size()));
    const auto setting = fact.warns ? strong() : plain();
    pen.write_centred(setting, {area.x + names, y},
                      pen.shortened(setting, fact.value, area.width - names));
    y += step;
  }
}

} // namespace

void draw_rig(Pen& pen, const RigPage& page, const Palette& colors, const Rect& rect,
              const Scale& scale) {
  RigPainter painter{pen, colors, scale};
  const Rect inner = draw_heading(pen, page.title, page.subtitle, colors, rect, scale);
  const int left = inner.width * 11 / 20, gap = scale.px(space::margin);
  const int count = std::max(1, static_cast<int>(page.charts.size()));
  const int each = (inner.height - gap / 2 * (count - 1)) / count;
  int y = inner.y;
  for (const auto& chart : page.charts) {
    painter.chart({inner.x, y, left - gap, each}, chart);
    y += each + gap / 2;
  }
  painter.facts(from_edges(inner.x + left, inner.y, inner.right(), inner.bottom()), page.facts);
}

} // namespace landfall::render
