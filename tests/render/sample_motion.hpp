#pragma once

#include "render/frame.hpp"

#include <vector>

namespace landfall::render::samples {

/// The frame as it is shown `beats` later, while the same chord sounds: the lane moves, and the
/// arcs of what comes close over four bars.
Frame later(const Frame& frame, double beats);

/// So many frames of it, a sixtieth of a second apart, at 96 beats a minute.
std::vector<Frame> playing(const Frame& frame, int frames);

} // namespace landfall::render::samples
