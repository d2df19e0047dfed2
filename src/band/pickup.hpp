#pragma once

#include "band/event.hpp"
#include "band/feel.hpp"
#include "song/form.hpp"

#include <vector>

namespace landfall::band {

/// What bass and comping play in a form's pick-up bars: each chord held from where it stands to the
/// next one or the top, the bass on its root or slash bass. No drums: the count-in goes on clicking
/// through it. At ticks below 0; empty without a pick-up.
std::vector<Event> plan_pickup(const song::Form& form, const Feel& feel);

} // namespace landfall::band
