#include "render/chart_preview.hpp"

#include "render/chord.hpp"

namespace landfall::render {

namespace {

constexpr double symbol = 1.6; ///< Of running text: then its quality can be read.
constexpr int bars_a_line = 4;

struct ChartPainter {
  Pen& pen;
  const Palette& colors;
  const Rect& rect;
  const Scale& scale;
  const int body;
  int bars_a_row = bars_a_line; ///< Fewer where their chords need the room.

  int section_height() const { return Scale::line(body); }
  int bars_height() const { return static_cast<int>(body * symbol * 1.2) + scale.px(14); }
  int height(const ChartLine& line) const {
    const int rows = (static_cast<int>(line.bars.size()) + bars_a_row - 1) / bars_a_row;
    return rows * bars_height() + (line.section.empty() ? 0 : section_height());
  }
  int wanted() const { return static_cast<int>(body * symbol); }
  int pad() const { return scale.px(space::small); }
  /// Room for each of so many chords in a bar.
  int each(std::size_t chords) const {
    return (rect.width / bars_a_row - pad()) / std::max(static_cast<int>(chords), 1);
  }

  bool has_room(const ChordText& chord, int room) const {
    const ChordSize size = fit_chord(pen, chord, wanted(), room);
    return !size.cut && chord_width(pen, chord, size) <= room;
  }
  bool has_room(const std::vector<ChartLine>& chart) const {
    for (const ChartLine& line : chart)
      for (const auto& bar : line.bars)
        for (const ChordText& chord : bar)
          if (!has_room(chord, each(bar.size()) - pad()))
            return false;
    return true;
  }
  void choose_width(const std::vector<ChartLine>& chart) {
    while (bars_a_row > 1 && !has_room(chart))
      bars_a_row /= 2;
  }

  /// Its chords share it evenly. One without room is left out.
  void bar(const std::vector<ChordText>& chords, const Rect& room) {
    pen.fill({room.x, room.y, scale.px(2, 1), room.height}, colors.hairline);
    int x = room.x + pad();
    for (const ChordText& chord : chords) {
      const int wide = each(chords.size()) - pad();
      const ChordSize size = fit_chord(pen, chord, wanted(), wide);
      const int cap = pen.cap({Face::bold, size.root, colors.text});
      if (chord_width(pen, chord, size) <= wide)
        write_chord(pen, chord, size, {x, room.middle().y + cap / 2}, colors.text);
      x += each(chords.size());
    }
  }

  /// Under each row lies a strip as long as its bars: a piece of the lane.
  void strip(const ChartLine& line, int row, int y) {
    const int bars = std::min(static_cast<int>(line.bars.size()) - row * bars_a_row, bars_a_row);
    pen.fill({rect.x, y, bars * (rect.width / bars_a_row), bars_height() - pad()}, colors.ground);
  }

  void line(const ChartLine& line, int y) {
    if (!line.section.empty()) {
      pen.write_within({Face::semibold, body, colors.quiet}, {rect.x, y + body}, line.section,
                       rect.width);
      y += section_height();
    }
    const int wide = rect.width / bars_a_row;
    int number = 0;
    for (const auto& chords : line.bars) {
      if (number % bars_a_row == 0)
        strip(line, number / bars_a_row, y + number / bars_a_row * bars_height());
      bar(chords, {rect.x + number % bars_a_row * wide, y + number / bars_a_row * bars_height(),
                   wide, bars_height() - pad()});
      ++number;
    }
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
  painter.choose_width(chart);
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
