#pragma once

#include "midi/lateness.hpp"

namespace landfall::app {

/// How late a thread that does nothing but wait for deadlines wakes, at the senders' priority and
/// timer slack: what this machine can do. Takes about `count` milliseconds.
midi::LatenessSummary measure_bare_timer(int count);

} // namespace landfall::app
