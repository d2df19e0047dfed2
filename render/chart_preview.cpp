#include "render/chart_preview.hpp"

#include "render/chord.hpp"

namespace landfall::render {

namespace {

constexpr double symbol = 1.6; ///< Of running text: then its quality can be read.

std::size_t count_bars(const std::vector<ChartLine>& chart) {
  std::size_t bars = 0;
  for (const ChartLine& line : chart)
    bars += line.bars.size();
  return bars;
}

class ChartWriter {
public:
  ChartWriter(Pen& pen, const Palette& colors, const Rect& rect, const Scale& scale)
      : pen_(pen), colors_(colors), rect_(rect), scale_(scale), body_(scale.text(type::body)),
        x_(rect.x), y_(rect.y) {}

  /// Returns how many bars found room; the last row is kept for what is said of the rest.
  std::size_t write(const std::vector<ChartLine>& chart) {
    std::size_t written = 0;
    for (const ChartLine& line : chart) {
      if (x_ > rect_.x)
        next_row();
      if (!has_room(row_height() + (line.section.empty() ? 0 : Scale::line(body_))))
        return written;
      section(line.section);
      for (const auto& bar : line.bars) {
        if (x_ > rect_.x && x_ + width(bar) > rect_.right())
          next_row();
        if (!has_room(row_height()))
          return written;
        write(bar);
        ++written;
      }
    }
    return written;
  }

  void rest(std::size_t bars) {
    const int y = x_ > rect_.x ? y_ + row_height() : y_;
    pen_.write_within({Face::regular, body_, colors_.quiet}, {rect_.x, y + body_},
                      "and " + std::to_string(bars) + " bars more", rect_.width);
  }

private:
  int row_height() const { return static_cast<int>(body_ * symbol * 1.2) + scale_.px(14); }
  int pad() const { return scale_.px(space::medium); }
  bool has_room(int height) const { return y_ + height + Scale::line(body_) <= rect_.bottom(); }
  void next_row() { x_ = rect_.x, y_ += row_height(); }

  ChordSize size(const ChordText& chord) const {
    return fit_chord_line(pen_, chord, static_cast<int>(body_ * symbol), rect_.width - 2 * pad());
  }
  int width(const std::vector<ChordText>& bar) const {
    int width = pad();
    for (const ChordText& chord : bar)
      width += chord_width(pen_, chord, size(chord)) + pad();
    return width;
  }

  void section(const std::string& name) {
    if (name.empty())
      return;
    pen_.write_within({Face::semibold, body_, colors_.quiet}, {rect_.x, y_ + body_}, name,
                      rect_.width);
    y_ += Scale::line(body_);
  }

  void write(const std::vector<ChordText>& bar) {
    const int high = row_height() - scale_.px(space::small);
    pen_.fill({x_, y_ + high / 4, scale_.px(2, 1), high / 2}, colors_.quiet);
    x_ += pad();
    for (const ChordText& chord : bar) {
      if (x_ > rect_.x + pad() && x_ + chord_width(pen_, chord, size(chord)) > rect_.right())
        return; // a bar that is wider than the page
      const ChordSize as = size(chord);
      const int cap = pen_.cap({Face::bold, as.root, colors_.text});
      x_ += write_chord(pen_, chord, as, {x_, y_ + high / 2 + cap / 2}, colors_.text) + pad();
    }
  }

  Pen& pen_;
  const Palette& colors_;
  const Rect& rect_;
  const Scale& scale_;
  const int body_;
  int x_, y_;
};

} // namespace

void draw_chart(Pen& pen, const std::vector<ChartLine>& chart, const Palette& colors,
                const Rect& rect, const Scale& scale) {
  ChartWriter writer(pen, colors, rect, scale);
  const std::size_t written = writer.write(chart), all = count_bars(chart);
  if (written < all)
    writer.rest(all - written);
}

} // namespace landfall::render
