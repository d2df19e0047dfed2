#include "render/chart_preview.hpp"

#include "render/chord.hpp"

namespace landfall::render {

namespace {

constexpr double symbol = 1.25; ///< Of running text.
constexpr std::size_t bars_a_line = 4;

struct ChartPainter {
  Pen& pen;
  const Palette& colors;
  const Rect& rect;
  const Scale& scale;
  const int body;

  int section_height() const { return Scale::line(body); }
  int bars_height() const { return Scale::line(static_cast<int>(body * symbol)) + scale.px(14); }
  int height(const ChartLine& line) const {
    return bars_height() + (line.section.empty() ? 0 : section_height());
  }

  /// Its chords share it evenly.
  void bar(const std::vector<ChordText>& chords, const Rect& room) {
    pen.fill({room.x, room.y, scale.px(2, 1), room.height}, colors.hairline);
    const int pad = scale.px(space::small);
    const int each = (room.width - pad) / std::max(static_cast<int>(chords.size()), 1);
    const int wanted = static_cast<int>(body * symbol);
    int x = room.x + pad;
    for (const ChordText& chord : chords) {
      const ChordSize size = fit_chord(pen, chord, wanted, each - pad / 2);
      const int cap = pen.cap({Face::bold, size.root, colors.text});
      write_chord(pen, chord, size, {x, room.middle().y + cap / 2}, colors.text);
      x += each;
    }
  }

  void line(const ChartLine& line, int y) {
    if (!line.section.empty()) {
      pen.write_within({Face::semibold, body, colors.quiet}, {rect.x, y + body}, line.section,
                       rect.width);
      y += section_height();
    }
    const int wide = rect.width / static_cast<int>(bars_a_line);
    const int high = bars_height() - scale.px(space::small);
    for (std::size_t i = 0; i < std::min(line.bars.size(), bars_a_line); ++i)
      bar(line.bars[i], {rect.x + static_cast<int>(i) * wide, y, wide, high});
  }

  void rest(std::size_t bars, int y) {
    pen.write_within({Face::regular, body, colors.quiet}, {rect.x, y + body},
                     "and " + std::to_string(bars) + " bars more", rect.width);
  }
};

std::size_t bars_from(const std::vector<ChartLine>& chart, std::size_t first) {
  std::size_t bars = 0;
  for (std::size_t i = first; i < chart.size(); ++i)
    bars += chart[i].bars.size();
  return bars;
}

} // namespace

void draw_chart(Pen& pen, const std::vector<ChartLine>& chart, const Palette& colors,
                const Rect& rect, const Scale& scale) {
  ChartPainter painter{pen, colors, rect, scale, scale.text(type::body)};
  int y = rect.y;
  for (std::size_t i = 0; i < chart.size(); ++i) {
    const bool last = i + 1 == chart.size();
    const int left = rect.bottom() - y - (last ? 0 : Scale::line(painter.body));
    if (painter.height(chart[i]) > left) {
      if (y + Scale::line(painter.body) <= rect.bottom())
        painter.rest(bars_from(chart, i), y);
      return;
    }
    painter.line(chart[i], y);
    y += painter.height(chart[i]);
  }
}

} // namespace landfall::render
