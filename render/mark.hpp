#pragma once

#include "render/style.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// How marks are drawn on a board: `unit` is the space between neighbours in pixels.
struct MarkStyle {
  const Palette& colors;
  double unit;
  Color under;                      ///< What the mark lies on.
  double label = neck_style::label; ///< Size of a label, of its disc's radius.
};

/// Disc, ring, label and arc of one place or key.
void draw_mark(Pen& pen, const Mark& mark, Point at, const MarkStyle& style);

/// A line around the places between two, as by chalk.
void draw_circle(Pen& pen, Point a, Point b, const MarkStyle& style);

/// The halo around what sounds.
void draw_halo(Pen& pen, Point at, Sounds kind, double brightness, const MarkStyle& style);

} // namespace landfall::render
