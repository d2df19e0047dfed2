#pragma once

#include "midi/lateness.hpp"
#include "midi/realtime.hpp"

namespace landfall::midi {

/// How late a thread wakes that does nothing but sleep until `count` deadlines `interval` apart, at
/// a sender's priority and timer slack: what this machine can do now. Takes interval * count.
LatenessSummary measure_bare_timer(int count, Nanoseconds interval, int priority = sender_priority);

/// The same, added to `lateness`.
void measure_bare_timer(int count, Nanoseconds interval, LatenessHistogram& lateness,
                        int priority = sender_priority);

} // namespace landfall::midi
