#pragma once

#include "app/sheet_page.hpp"
#include "render/frame.hpp"

#include <string_view>

namespace landfall::app::sheet {

using render::Face;

/// How a text is set.
struct Style {
  double size = 10;
  Face face = Face::regular;
  double grey = 0;
};

enum class Align : std::uint8_t { left, middle, right };

/// How wide a run in one face is, in points.
double run_width(const render::TextMetrics& metrics, Face face, double size, std::string_view text);

/// Collects marks; texts change the face by themselves at musical signs. `metrics` outlive it.
class Pen {
public:
  explicit Pen(const render::TextMetrics& metrics) : metrics_(metrics) {}

  void add(Mark mark) { marks_.push_back(std::move(mark)); }
  void line(double x1, double y1, double x2, double y2, double width = 0.6, double grey = 0) {
    add(Line{x1, y1, x2, y2, width, grey});
  }

  double width(const Style& style, std::string_view text) const;
  /// Sets `text` on the baseline `y`. Returns its width.
  double write(const Style& style, double x, double y, std::string_view text,
               Align align = Align::left);
  /// Broken at blanks into lines of at most `room`. A word that is longer is cut.
  std::vector<std::string> wrapped(const Style& style, std::string_view text, double room) const;
  /// Sets wrapped lines, the first on the baseline `y`. Returns the baseline after the last.
  double write_wrapped(const Style& style, double x, double y, std::string_view text, double room,
                       double leading = 1.36);
  /// Shortened with an ellipsis to `room`.
  std::string shortened(const Style& style, std::string_view text, double room) const;

  /// A chord symbol, its root `size` large. Returns its width.
  double write_chord(const render::ChordText& chord, double size, double x, double y);
  double chord_width(const render::ChordText& chord, double size) const;

  const render::TextMetrics& metrics() const { return metrics_; }
  std::vector<Mark> take() { return std::move(marks_); }

private:
  const render::TextMetrics& metrics_;
  std::vector<Mark> marks_;
};

} // namespace landfall::app::sheet
