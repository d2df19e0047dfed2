#include "render/mark.hpp"

#include <array>

namespace landfall::render {

namespace {

float stroke_of(const MarkStyle& style, double share, double least = 1.0) {
  return static_cast<float>(std::max(least, style.unit * share));
}

/// Of the usual radius; where marks are small, larger, so that labels have room.
double reach_share(double unit) {
  return std::clamp(neck_style::least_reach / unit, neck_style::reach, 0.9);
}

/// For text in a disc, at the height of its capitals.
int room_within(double radius, int size) {
  const double away = std::min(radius, size * 0.4);
  return static_cast<int>(1.92 * std::sqrt(radius * radius - away * away));
}

void label(Pen& pen, const Mark& mark, Point at, double radius, Color color, double share) {
  Setting setting{Face::bold, static_cast<int>(std::lround(radius * share)), color};
  setting.size = std::max(setting.size, static_cast<int>(type::least));
  while (setting.size >= type::least_label &&
         pen.width(setting, mark.label) > room_within(radius, setting.size))
    --setting.size;
  if (setting.size < type::least_label)
    return;
  pen.write_centred(setting, at, mark.label, Align::middle);
}

float rim_stroke(const MarkStyle& style) {
  return stroke_of(style, neck_style::rim, 1.5);
}

/// Of what a place shows within a rim, so that there is a gap of a pixel at least.
double size_within_rim(double size, const MarkStyle& style) {
  const double least_gap = rim_stroke(style) / 2 + 1;
  return std::min(size * neck_style::in_rim, size - least_gap / neck_style::disc);
}

/// Around what a place shows, with a gap.
void grip_rim(Pen& pen, const Mark& mark, Point at, double size, const MarkStyle& style) {
  pen.add(Ring{at, static_cast<float>(size * neck_style::disc), rim_stroke(style),
               mix(style.under, style.colors.text, mark.brightness)});
}

/// Covers the string within a rim.
void clear_rim(Pen& pen, Point at, double size, const MarkStyle& style) {
  pen.add(Disc{at, static_cast<float>(size * neck_style::disc), style.under});
}

void landing(Pen& pen, const Mark& mark, Point at, double radius, const MarkStyle& style) {
  pen.add(
      Disc{at, static_cast<float>(radius), mix(style.under, style.colors.sand, mark.brightness)});
  if (mark.brightness > 0.2)
    label(pen, mark, at, radius,
          mix(mix(style.under, style.colors.sand, mark.brightness), style.colors.on_sand,
              mark.brightness),
          style.label);
}

void open_ring(Pen& pen, const Mark& mark, Point at, double radius, double stroke_share,
               Color color, const MarkStyle& style) {
  const float stroke = stroke_of(style, stroke_share, 1.2);
  pen.add(Disc{at, static_cast<float>(radius), style.under});
  pen.add(Ring{at, static_cast<float>(radius) - stroke / 2, stroke,
               mix(style.under, color, mark.brightness)});
}

void coming(Pen& pen, const Mark& mark, Point at, const MarkStyle& style) {
  const int sweep = static_cast<int>(std::lround(between(0.0, *mark.coming, 1.0) * full_sweep));
  const float stroke = stroke_of(style, 0.045, 2.0);
  // Where marks are small, still apart from what lies within.
  const float inside = static_cast<float>(style.unit * neck_style::disc) +
                       (mark.in_grip ? rim_stroke(style) / 2 : 0.0F);
  const float radius =
      std::max(static_cast<float>(style.unit * neck_style::arc), inside + stroke / 2 + 1.5F);
  if (mark.common)
    pen.add(Ring{at, radius, stroke_of(style, 0.014, 1.0), style.colors.tide});
  if (sweep > 0)
    pen.add(Arc{at, radius, stroke, sweep, style.colors.tide});
}

/// Angular, as the call's contour is: what the player plays is round.
void call_frame(Pen& pen, Point at, Color ink, const MarkStyle& style) {
  const int reach = static_cast<int>(std::lround(style.unit * neck_style::frame));
  const int width = static_cast<int>(std::lround(stroke_of(style, 0.04, 2.0)));
  const Rect whole{at.x - reach, at.y - reach, 2 * reach, 2 * reach};
  const Rect inner = whole.inset(width, width);
  pen.fill(from_edges(whole.x, whole.y, whole.right(), inner.y), ink);
  pen.fill(from_edges(whole.x, inner.bottom(), whole.right(), whole.bottom()), ink);
  pen.fill(from_edges(whole.x, inner.y, inner.x, inner.bottom()), ink);
  pen.fill(from_edges(inner.right(), inner.y, whole.right(), inner.bottom()), ink);
}

void pointer(Pen& pen, Point at, const MarkStyle& style) {
  pen.add(Ring{at, static_cast<float>(style.unit * 0.6), stroke_of(style, 0.07, 3.0),
               style.colors.text});
}

} // namespace

void draw_mark(Pen& pen, const Mark& mark, Point at, const MarkStyle& style) {
  if (mark.hidden)
    return;
  const double size = style.unit * (mark.reach ? reach_share(style.unit) : 1.0);
  if (mark.coming)
    coming(pen, mark, at, style);
  if (mark.in_grip)
    clear_rim(pen, at, size, style);
  const double inner = mark.in_grip ? size_within_rim(size, style) : size;
  if (mark.role == Role::landing)
    landing(pen, mark, at, inner * neck_style::disc, style);
  if (mark.role == Role::chord)
    open_ring(pen, mark, at, inner * neck_style::chord, 0.035, style.colors.text, style);
  const bool lit = mark.role == Role::landing || mark.role == Role::chord;
  if (mark.role == Role::chord || (!lit && mark.in_grip))
    label(pen, mark, at, inner * neck_style::chord,
          mix(style.under, style.colors.text, mark.brightness), style.label);
  if (mark.in_grip)
    grip_rim(pen, mark, at, size, style);
  if (mark.role == Role::set && !mark.in_grip)
    open_ring(pen, mark, at, size * neck_style::set, 0.026, style.colors.quiet, style);
  if (mark.pointed_at)
    pointer(pen, at, style);
}

void draw_halo(Pen& pen, Point at, Sounds kind, double brightness, const MarkStyle& style) {
  const Color ink = mix(
      style.under, kind == Sounds::call ? style.colors.tide : style.colors.sounding, brightness);
  if (kind == Sounds::call)
    return call_frame(pen, at, ink, style);
  if (kind == Sounds::outside) {
    pen.add(Ring{at, static_cast<float>(style.unit * neck_style::outside_halo),
                 stroke_of(style, 0.025, 1.5), ink});
    return;
  }
  pen.add(Ring{at, static_cast<float>(style.unit * neck_style::halo), stroke_of(style, 0.04, 2.0),
               ink});
  if (kind == Sounds::set)
    return;
  pen.add(Ring{at, static_cast<float>(style.unit * neck_style::outer_halo),
               stroke_of(style, 0.02, 1.0), ink});
}

void draw_circle(Pen& pen, Point a, Point b, const MarkStyle& style) {
  const int away = static_cast<int>(style.unit * neck_style::circle);
  const int cut = static_cast<int>(away * 0.6);
  const int left = std::min(a.x, b.x) - away, right = std::max(a.x, b.x) + away;
  const int top = std::min(a.y, b.y) - away, foot = std::max(a.y, b.y) + away;
  const std::array<Point, 8> corners{{{left + cut, top},
                                      {right - cut, top},
                                      {right, top + cut},
                                      {right, foot - cut},
                                      {right - cut, foot},
                                      {left + cut, foot},
                                      {left, foot - cut},
                                      {left, top + cut}}};
  const float stroke = stroke_of(style, 0.07, 3.0);
  for (std::size_t i = 0; i < corners.size(); ++i)
    pen.add(Line{corners[i], corners[(i + 1) % corners.size()], stroke, style.colors.text});
}

} // namespace landfall::render
