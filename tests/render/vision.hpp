#pragma once

#include "render/color.hpp"

namespace landfall::render::checks {

/// How an eye sees that lacks one of the three kinds of cones.
enum class Vision : std::uint8_t { protanopia, deuteranopia, tritanopia };

inline constexpr Vision visions[] = {Vision::protanopia, Vision::deuteranopia, Vision::tritanopia};

/// By the matrices for severity 1.0 in Machado, Oliveira, Fernandes: A Physiologically-based Model
/// for Simulation of Color Vision Deficiency, IEEE TVCG 15 (6), 2009; in linear RGB.
Color seen_by(Vision vision, Color color);

} // namespace landfall::render::checks
