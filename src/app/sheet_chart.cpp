#include "app/sheet_chart.hpp"

#include "app/sheet_bars.hpp"
#include "app/words.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app::sheet {
namespace {

constexpr int bars_in_line = 4;
constexpr double bar_height = 30, annotation_height = 13, name_height = 17;
constexpr double chord_size = 19, least_chord_size = 4, padding = 6;
constexpr double meter_width = 13, repeat_width = 8, chord_gap = 3;
constexpr Style name_style{11, Face::bold}, annotation{8, Face::semibold, 0.1};
constexpr Style meter_style{12, Face::bold};

/// One line of bars.
class ChartLine {
public:
  ChartLine(double room, const render::TextMetrics& metrics)
      : cell_width_(room / bars_in_line), pen_(metrics) {}

  /// The section's name, where the line begins one.
  void head(const std::string& name) {
    if (name.empty())
      return;
    pen_.write(name_style, 0, 10, pen_.shortened(name_style, name, cell_width_ * bars_in_line));
    top_ = name_height;
  }

  void draw(const ChartCell* first, const ChartCell* last, bool open_left) {
    if (std::any_of(first, last, [](const ChartCell& cell) {
          return cell.under_ending || !cell.change.empty() || !cell.times.empty();
        }))
      top_ += annotation_height;
    if (open_left)
      vertical(0, 0.7);
    for (const auto* cell = first; cell != last; ++cell)
      draw_cell(*cell, cell_width_ * static_cast<double>(cell - first));
  }

  double height() const { return top_ + bar_height; }
  std::vector<Mark> take() { return pen_.take(); }

private:
  double bottom() const { return top_ + bar_height; }
  void vertical(double x, double width) { pen_.line(x, top_, x, bottom(), width); }

  void draw_cell(const ChartCell& cell, double x) {
    annotate(cell, x);
    double left = x + padding, right = x + cell_width_ - padding;
    if (cell.opens_repeat) {
      thick_bar(x + 1);
      vertical(x + 4, 0.7);
      dots(x + 7);
      left += repeat_width;
    }
    if (cell.meter_shown) {
      draw_meter(cell.meter, left + meter_width / 2 - 2);
      left += meter_width + 2;
    }
    right -= draw_end(cell, x + cell_width_);
    if (cell.space)
      pen_.write({10, Face::regular, 0.2}, (left + right) / 2, top_ + 19, "rest", Align::middle);
    else
      draw_chords(cell, left, right);
  }

  /// Returns what the sign takes of the bar's room.
  double draw_end(const ChartCell& cell, double x) {
    using End = ChartCell::End;
    if (cell.end == End::plain)
      return vertical(x, 0.7), 0;
    vertical(x - (cell.end == End::twofold ? 2.5 : 4), 0.7);
    if (cell.end == End::twofold)
      return vertical(x, 0.7), 2;
    thick_bar(x - 1);
    if (cell.end == End::repeat)
      dots(x - 7);
    return cell.end == End::repeat ? repeat_width : 4;
  }

  void thick_bar(double x) { vertical(x, 2); }
  void dots(double x) {
    for (const double y : {-4.0, 4.0})
      pen_.add(Disc{x, top_ + bar_height / 2 + y, 1.3, 0, 0, false});
  }

  void draw_meter(song::Meter meter, double x) {
    const double middle = top_ + bar_height / 2;
    pen_.write(meter_style, x, middle - 1.5, std::to_string(meter.beats), Align::middle);
    pen_.write(meter_style, x, middle + 10, std::to_string(meter.unit), Align::middle);
  }

  void annotate(const ChartCell& cell, double x) {
    const double line = top_ - annotation_height + 3;
    double left = x + 2;
    if (cell.under_ending) {
      const bool closes = cell.end != ChartCell::End::plain;
      pen_.line(cell.ending.empty() ? x : x + 1, line, x + cell_width_ - (closes ? 3 : 0), line,
                0.7);
    }
    if (!cell.ending.empty()) {
      pen_.line(x + 1, line, x + 1, line + 8, 0.7);
      left += 3 + pen_.write(annotation, left + 2, line + 8, cell.ending) + 4;
    }
    double right = x + cell_width_ - 4;
    if (!cell.times.empty())
      right -= pen_.write(annotation, right, line + 7, cell.times, Align::right) + 6;
    if (!cell.change.empty())
      pen_.write(annotation, left, line + 7, pen_.shortened(annotation, cell.change, right - left));
  }

  struct Set {
    render::ChordText text;
    double wanted = 0; ///< Where its beat begins.
    double x = 0;
  };

  /// Lays the symbols at their beats, or where that is too close behind one another, and back from
  /// the right end. Whether there is room for them.
  bool lay(std::vector<Set>& symbols, double size, double left, double right) const {
    double end = left;
    for (auto& symbol : symbols) {
      symbol.x = std::max(symbol.wanted, end);
      end = symbol.x + pen_.chord_width(symbol.text, size) + chord_gap;
    }
    for (auto symbol = symbols.rbegin(); symbol != symbols.rend(); ++symbol) {
      symbol->x = std::min(symbol->x, right - pen_.chord_width(symbol->text, size));
      right = symbol->x - chord_gap;
    }
    return symbols.empty() || symbols.front().x >= left;
  }

  void draw_chords(const ChartCell& cell, double left, double right) {
    const auto x_of = [&](Ticks at) {
      return left + (right - left) * static_cast<double>(at.count) /
                        static_cast<double>(bar_length(cell.meter).count);
    };
    std::vector<Set> symbols;
    for (const auto& chord : cell.chords)
      symbols.push_back({chord_text(chord.chord), x_of(chord.at)});
    double size = chord_size;
    while (!lay(symbols, size, left, right) && size > least_chord_size)
      size -= 0.5;
    for (const auto& symbol : symbols)
      pen_.write_chord(symbol.text, size, symbol.x, top_ + 21.5);
    if (symbols.size() != 1 || cell.chords.front().at > Ticks{})
      draw_slashes(cell, symbols, size, x_of);
  }

  /// A stroke on each beat on which the chord goes on.
  template <typename At>
  void draw_slashes(const ChartCell& cell, const std::vector<Set>& symbols, double size, At x_of) {
    const double middle = top_ + bar_height / 2;
    for (Ticks at; at < bar_length(cell.meter); at += beat_length(cell.meter)) {
      const double x = x_of(at) + 5;
      const bool free = std::ranges::none_of(symbols, [&](const Set& symbol) {
        return x + 4 > symbol.x - 1 && x - 4 < symbol.x + pen_.chord_width(symbol.text, size) + 1;
      });
      if (free)
        pen_.line(x - 3, middle + 5, x + 3, middle - 5, 1.1, 0.35);
    }
  }

  double cell_width_;
  double top_ = 0;
  Pen pen_;
};

} // namespace

std::vector<Block> chart_blocks(const song::Song& song, const song::Form& form, double room,
                                const render::TextMetrics& metrics) {
  std::vector<Block> blocks;
  int number = 1;
  for (const auto& section : chart_sections(song, form)) {
    const auto& cells = section.cells;
    for (std::size_t first = 0; first < cells.size(); first += bars_in_line) {
      const auto last = std::min(first + bars_in_line, cells.size());
      ChartLine line(room, metrics);
      line.head(first == 0 ? section.name : "");
      line.draw(cells.data() + first, cells.data() + last, !cells[first].opens_repeat);
      const double height = line.height();
      blocks.push_back({"chart line " + std::to_string(number++), line.take(), height,
                        first == 0 ? 12.0 : 6.0, false});
    }
  }
  return blocks;
}

} // namespace landfall::app::sheet
