#pragma once

#include "ear/ground.hpp"
#include "ear/settings.hpp"

namespace landfall::ear {

/// The time around a change in which an arrival counts: [from, to].
struct Window {
  Ticks from;
  Ticks to;

  bool holds(Ticks at) const { return at >= from && at <= to; }
};

/// The window's length either side and 40 ms more before; after the change at least 80 and at most
/// 250 ms. Neighbouring windows meet halfway; the middle itself belongs to the later one.
Window window_of(const Ground& ground, std::size_t change, const Settings& settings);

/// The last tick at which a chord tone still counts as late: a beat after the change, but before
/// the next change's window.
Ticks latest_of(const Ground& ground, std::size_t change, const Settings& settings);

/// From when on a change that its arrival itself lands on can be judged for good.
Ticks soonest_final(const Ground& ground, const Change& change);

/// From when on any change can: nothing that may still be played or laid out matters.
Ticks final_at(const Ground& ground, const Change& change, const Settings& settings = {});

/// The change to whose chord a strike at `at` belongs if it is the last before it: the next one, if
/// `at` lies inside its window.
std::optional<std::size_t> coming_change(const Ground& ground, Ticks at, const Settings& settings);

} // namespace landfall::ear
