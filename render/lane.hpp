#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// The lane's rows, top to bottom: bar labels, chords, trace, ticks with the verdicts.
struct LaneRows {
  LaneRows(const Rect& lane, const Scale& scale);

  /// Contours need more height than the trace.
  static int wanted_height(const Scale& scale, bool standing);

  /// Of a note in the trace, 0 lowest to 1 highest.
  int height(double share) const;

  int label_baseline;
  int chord_baseline;
  int trace_top, trace_bottom;
  int ticks_middle;
  int verdict_radius;
};

/// Where beats lie in the lane. Whole beats move in step, so that nothing jitters against the rest.
class LaneGeometry {
public:
  LaneGeometry(const Frame& frame, const Rect& lane, const Scale& scale);

  int x(double beat) const;
  double beat(int x) const;
  int line_x() const { return x(0.0); }
  int width(double beats) const {
    return static_cast<int>(std::lround(between(-1e6, beats * beat_width_, 1e6)));
  }
  int left() const { return left_; } ///< Where a label that has been passed comes to rest.
  bool shows(double from, double to) const;

private:
  Rect lane_;
  int beat_width_;
  int origin_;
  int left_;
};

/// The sliding bars, what was played, and the fixed line.
void draw_lane(Pen& pen, const Frame& frame, const Rect& lane, const Scale& scale);

/// The contour of the call and the answer's notes.
void draw_trade(Pen& pen, const Frame& frame, const LaneGeometry& geometry, const LaneRows& rows,
                const Scale& scale);

} // namespace landfall::render
