#pragma once

#include "app/sheet_pen.hpp"
#include "app/sheet_rhythm.hpp"

namespace landfall::app::sheet {

/// How high a line of rhythm is, beams and triplet signs included.
inline constexpr double rhythm_height = 31;

/// The rhythm of a bar in note heads with stems, beams, rests and ties, from `top` down. `x` has
/// the place of each of its beats.
void draw_rhythm(Pen& pen, const TabBar& bar, Ticks beat_length, const std::vector<double>& x,
                 double top);

} // namespace landfall::app::sheet
