#pragma once

#include "band/band.hpp"

namespace landfall::band {

/// Moves events by a few milliseconds and changes their velocity a little, from the seed.
void humanise(std::vector<Event>& events, const Request& request);

/// How far humanising may move an event at the form's tempo.
Ticks loosest(const song::Form& form);

/// Sorts by tick, part and note, and makes each note end where the next one of its part and pitch
/// begins. Of two at one tick the louder stays.
void untangle(std::vector<Event>& events);

/// Cuts what rings past `end`; drops what begins at or after it.
void cut_at(std::vector<Event>& events, Part part, Ticks end);

} // namespace landfall::band
