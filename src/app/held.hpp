#pragma once

#include "song/performance.hpp"

#include <vector>

namespace landfall::app {

// Where a band that is held stands, and how the lights are stepped over its form. All ticks are of
// a performance as it is laid out, of its first stretch. Pure.

/// Where the chord changes, and every beat; in order, the first is the stretch's start.
std::vector<Ticks> chord_steps(const song::Stretch& stretch);
std::vector<Ticks> beat_steps(const song::Stretch& stretch);

/// So many steps on from `at`, or back to the one at or before it and further; round the ends.
/// `steps` is not empty.
Ticks stepped(const std::vector<Ticks>& steps, Ticks at, int by);

/// The last step at or before `at`.
Ticks step_at(const std::vector<Ticks>& steps, Ticks at);

/// The bar line at or before `at`.
Ticks bar_line_before(const song::Stretch& stretch, Ticks at);

/// The place of `moment`, of whatever stretch, within `stretch`: its beat. The start where the
/// stretch does not hold it.
Ticks held_at(const song::Stretch& stretch, const song::Moment& moment);

} // namespace landfall::app
