#include "render/lane.hpp"

#include "render/chord.hpp"

#include <limits>

namespace landfall::render {

namespace {

constexpr double line_overhang = 10; // of the fixed line, above and below the lane

int label_line(const Scale& scale) {
  return Scale::line(scale.text(type::small)) + scale.px(10);
}
int chord_line(const Scale& scale) {
  return scale.display(type::present_chord);
}
int radius_of_verdicts(const Scale& scale) {
  return scale.text(type::small) * 3 / 4;
}

/// What drawing the lane needs everywhere.
struct LanePainter {
  Pen& pen;
  const Lane& lane;
  const Rect rect;
  const Scale& scale;
  const Palette& colors;
  const LaneGeometry geometry;
  const LaneRows rows;
  const bool counting; ///< A large number stands where the count-in's labels would.

  void space_bars();
  /// A count-in that is over, or shown by the large number, needs no name.
  bool names(const LaneBar& bar) const {
    return !bar.count_in || (!counting && bar.beat + bar.length > 0.0);
  }
  void bar(const LaneBar& bar);
  void ticks(const LaneBar& bar);
  void loop_edge(int x, bool opens);
  void label(const LaneBar& bar);
  void chord(std::size_t index);
  void trace(const TraceNote& note);
  void verdict(const Verdict& verdict);
  void line();
  Color under_line() const;
  void break_line(const Rect& text);
  void count(int beat);
  void large(const std::string& text, Color color);
};

void LanePainter::space_bars() {
  for (const LaneBar& bar : lane.bars) {
    if (!bar.space || !geometry.shows(bar.beat, bar.beat + bar.length))
      continue;
    const Rect whole =
        from_edges(geometry.x(bar.beat), rect.y, geometry.x(bar.beat + bar.length), rect.bottom());
    pen.fill(intersection(whole, rect), colors.ground);
  }
}

void LanePainter::bar(const LaneBar& bar) {
  const int x = geometry.x(bar.beat);
  const int inset = scale.px(20);
  const int width = scale.px(bar.form_begins ? 2 * space::hair : space::hair, 1);
  if (!bar.count_in)
    pen.fill({x - width / 2, rect.y + inset, width, rect.height - 2 * inset},
             bar.form_begins ? colors.quiet : colors.hairline);
  if (bar.in_loop)
    pen.fill({x, rect.y, geometry.width(bar.length), scale.px(6, 2)}, colors.quiet);
  if (bar.loop_opens)
    loop_edge(x, true);
  if (bar.loop_closes)
    loop_edge(geometry.x(bar.beat + bar.length), false);
  ticks(bar);
}

void LanePainter::ticks(const LaneBar& bar) {
  const int height = scale.px(bar.count_in ? 22 : 16, 4);
  const int pulses = std::clamp(bar.pulses, 1, 32);
  for (int pulse = bar.count_in ? 0 : 1; pulse < pulses; ++pulse)
    pen.fill({geometry.x(bar.beat + bar.length * pulse / pulses), rows.ticks_middle - height / 2,
              scale.px(space::hair, 1), height},
             bar.count_in ? colors.quiet : colors.hairline);
}

void LanePainter::loop_edge(int x, bool opens) {
  const int stroke = scale.px(6, 2), hook = scale.px(16, 5);
  const int left = opens ? x : x - hook;
  pen.fill({opens ? x : x - stroke, rect.y, stroke, rect.height}, colors.quiet);
  pen.fill({left, rect.y, hook, stroke}, colors.quiet);
  pen.fill({left, rect.bottom() - stroke, hook, stroke}, colors.quiet);
}

void LanePainter::label(const LaneBar& bar) {
  const bool present = bar.beat <= 0.0 && bar.beat + bar.length > 0.0;
  const int start = geometry.x(bar.beat) + scale.px(space::medium);
  const int left = present ? std::max(start, geometry.left()) : start;
  const int room = geometry.x(bar.beat + bar.length) - left - scale.px(space::small);
  const int size = scale.text(type::small);
  const Color plain = present ? colors.text : colors.quiet;
  const Setting name{Face::semibold, size,
                     bar.voice == Voice::call     ? colors.tide_text
                     : bar.voice == Voice::answer ? colors.sand_text
                                                  : plain};
  const Setting quiet{Face::regular, size, colors.quiet};
  std::string after = bar.count_in ? "count-in" : bar.number;
  if (bar.space)
    after += after.empty() ? "space" : " · space";
  if (!bar.section.empty() && !after.empty())
    after = " · " + after;
  const std::string shown = pen.shortened(name, bar.section, room);
  const int used = pen.width(name, shown);
  if (shown != bar.section || pen.width(quiet, after) > room - used)
    after.clear();
  break_line({left, rows.label_baseline - size, used + pen.width(quiet, after), size * 4 / 3});
  pen.write(name, {left, rows.label_baseline}, shown);
  pen.write(quiet, {left + used, rows.label_baseline}, after);
}

void LanePainter::chord(std::size_t index) {
  const LaneChord& chord = lane.chords[index];
  const double next = index + 1 < lane.chords.size() ? lane.chords[index + 1].beat
                                                     : std::numeric_limits<double>::infinity();
  const int gap = scale.px(space::medium);
  const int start = geometry.x(chord.beat) + gap;
  const int resting = geometry.line_x() - geometry.left();
  const double length = std::min(next - chord.beat, 64.0);
  int room = geometry.width(length) - 2 * gap;
  const int x = chord.present ? std::max(start, geometry.left()) : start;
  if (chord.present)
    room = std::min(room, std::max(resting, geometry.width(1.0)) - gap / 2);
  const bool past = !chord.present && chord.beat < 0.0 && !lane.standing_from;
  const int wanted = scale.display(chord.present ? type::present_chord : type::chord);
  const ChordSize size = fit_chord(pen, chord.chord, wanted, std::max(room, 8));
  if (chord_width(pen, chord.chord, size) > std::max(room, 0) + gap * 3 / 4)
    return; // it would run into the next
  const int depth = size.root * (size.stacked ? 3 : 1) / 4;
  break_line(
      {x, rows.chord_baseline - size.root, chord_width(pen, chord.chord, size), size.root + depth});
  write_chord(pen, chord.chord, size, {x, rows.chord_baseline}, past ? colors.quiet : colors.text);
}

void LanePainter::trace(const TraceNote& note) {
  const int thickness = scale.px(note.landed ? 7 : 4, note.landed ? 3 : 2);
  const int from = geometry.x(note.from);
  const int to = std::max(geometry.x(std::min(note.to, 0.0)), from + thickness);
  const int y = rows.height(note.height);
  pen.fill({from, y - thickness / 2, to - from, thickness},
           note.landed ? colors.sand : colors.quiet);
}

void LanePainter::verdict(const Verdict& verdict) {
  const Point at{geometry.x(verdict.beat), rows.ticks_middle};
  const int radius = rows.verdict_radius;
  const bool landed = verdict.mark == VerdictMark::landed;
  pen.add(Disc{at, static_cast<float>(radius), landed ? colors.sand : colors.panel});
  if (!landed) {
    const bool late = verdict.mark == VerdictMark::late;
    const float stroke = late ? std::max(2.5F, scale.exact(4.5)) : std::max(1.0F, scale.exact(2));
    pen.add(Ring{at, static_cast<float>(radius) - stroke / 2, stroke,
                 late ? colors.sand : colors.quiet});
  }
  Setting label{Face::bold, radius * 5 / 4, landed ? colors.on_sand : colors.text};
  while (label.size > type::least_label &&
         pen.width(label, verdict.degree) > radius * (landed ? 6 : 5) / 4)
    --label.size;
  pen.write_centred(label, at, verdict.degree, Align::middle);
}

/// With a gap on either side, so that bar lines and brackets that pass it stay apart.
void LanePainter::line() {
  const int width = scale.px(4, 2), over = scale.px(line_overhang), gap = scale.px(4, 2);
  const int left = geometry.line_x() - width / 2;
  pen.fill({left - gap, rect.y, width + 2 * gap, rect.height}, under_line());
  pen.fill({left, rect.y - over, width, rect.height + 2 * over}, colors.text);
}

Color LanePainter::under_line() const {
  const bool on_space = std::any_of(lane.bars.begin(), lane.bars.end(), [](const LaneBar& bar) {
    return bar.space && bar.beat <= 0.0 && bar.beat + bar.length > 0.0;
  });
  return on_space ? colors.ground : colors.panel;
}

/// The line stops short of a text that passes through it.
void LanePainter::break_line(const Rect& text) {
  const int width = scale.px(4, 2), pad = scale.px(6, 2);
  const int left = geometry.line_x() - width / 2;
  if (text.empty() || text.x > left + width + pad || text.right() < left - pad)
    return;
  pen.fill({left, text.y, width, text.height}, under_line());
}

void LanePainter::count(int beat) {
  large(std::to_string(beat), colors.text);
}

void LanePainter::large(const std::string& text, Color color) {
  const Setting number{Face::bold, rect.height * 2 / 3, color};
  const int right = lane.standing_from ? rect.right() : geometry.line_x();
  pen.write_centred(number, {(rect.x + right) / 2, rect.middle().y}, text, Align::middle);
}

} // namespace

LaneRows::LaneRows(const Rect& lane, const Scale& scale) {
  label_baseline = lane.y + scale.pad(16) + label_line(scale) * 3 / 4;
  chord_baseline = lane.y + scale.pad(16) + label_line(scale) + chord_line(scale) * 5 / 6;
  verdict_radius = radius_of_verdicts(scale);
  ticks_middle = lane.bottom() - scale.px(10) - verdict_radius;
  trace_top = chord_baseline + chord_line(scale) / 4 + scale.px(6);
  trace_bottom = std::max(trace_top + 1, ticks_middle - verdict_radius - scale.px(6));
}

int LaneRows::height(double share) const {
  return trace_bottom - static_cast<int>((trace_bottom - trace_top) * between(0.0, share, 1.0));
}

int LaneRows::wanted_height(const Scale& scale, bool standing) {
  return label_line(scale) + chord_line(scale) + 2 * radius_of_verdicts(scale) +
         scale.pad(standing ? 270 : 120);
}

LaneGeometry::LaneGeometry(const Frame& frame, const Rect& lane, const Scale& scale)
    : lane_(lane), left_(lane.x + scale.px(space::margin)) {
  const double zoom = between(0.25, frame.lane.zoom, 4.0);
  const double wide =
      std::max<double>(scale.px(space::beat * scale.display_share()), space::least_beat);
  const auto& standing = frame.lane.standing_from;
  const auto& last = frame.lane.standing_to;
  beat_width_ = std::max(static_cast<int>(std::lround(wide * zoom)), 4);
  if (standing && last && *last > *standing)
    beat_width_ = std::max(
        4, static_cast<int>((lane.width - scale.px(space::margin + 220)) / (*last - *standing)));
  origin_ = standing ? left_ - width(*standing)
                     : lane.x + static_cast<int>(std::lround(lane.width * fixed_line));
}

int LaneGeometry::x(double beat) const {
  const double pixels = between(-1e6, beat * beat_width_, 1e6);
  return origin_ + static_cast<int>(std::floor(pixels + 0.5));
}

double LaneGeometry::beat(int x) const {
  return static_cast<double>(x - origin_) / beat_width_;
}

bool LaneGeometry::shows(double from, double to) const {
  return x(to) > lane_.x && x(from) < lane_.right();
}

void draw_lane(Pen& pen, const Frame& frame, const Rect& rect, const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  LanePainter painter{pen,
                      frame.lane,
                      rect,
                      scale,
                      colors,
                      LaneGeometry(frame, rect, scale),
                      LaneRows(rect, scale),
                      frame.count_in.has_value()};
  const LaneGeometry& geometry = painter.geometry;
  const double moment = 1e-9;
  pen.fill(rect, colors.panel);
  pen.add(Clip{rect.inset(0, -scale.px(line_overhang))});
  painter.space_bars();
  for (const LaneBar& bar : frame.lane.bars)
    if (geometry.shows(bar.beat - moment, bar.beat + bar.length))
      painter.bar(bar);
  painter.line();
  for (const LaneBar& bar : frame.lane.bars)
    if (geometry.shows(bar.beat, bar.beat + bar.length) && painter.names(bar))
      painter.label(bar);
  for (std::size_t i = 0; i < frame.lane.chords.size(); ++i) {
    const LaneChord& chord = frame.lane.chords[i];
    if (chord.present || geometry.shows(chord.beat, chord.beat + 8))
      painter.chord(i);
  }
  for (const TraceNote& note : frame.lane.trace)
    if (note.from < 0.0 && geometry.shows(note.from, note.to + 0.25))
      painter.trace(note);
  draw_trade(pen, frame, geometry, painter.rows, scale);
  for (const Verdict& verdict : frame.lane.verdicts)
    if (geometry.shows(verdict.beat - 1, verdict.beat + 1))
      painter.verdict(verdict);
  pen.add(Clip{{0, 0, pen.size().width, pen.size().height}});
  if (frame.count_in)
    painter.count(*frame.count_in);
  else if (!frame.large.empty())
    painter.large(frame.large, colors.sand);
}

} // namespace landfall::render
