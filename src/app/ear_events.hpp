#pragma once

#include "ear/event.hpp"
#include "midi/input_mode.hpp"

#include <functional>
#include <optional>

namespace landfall::app {

/// Which performance tick a moment was.
using TickAt = std::function<Ticks(TimePoint)>;

/// What the ear is told of an input's event, the input's latency removed; none for what it does not
/// ask for. The same for what is played now and for a take that is judged again.
std::optional<ear::Event> ear_event(const midi::InputEvent& event, const midi::InputSetup& setup,
                                    const TickAt& tick_at);

} // namespace landfall::app
