#pragma once

#include "time/ticks.hpp"

#include <pthread.h>

namespace landfall::midi {

/// A little below the usual priority of a sound server's own threads.
inline constexpr int sender_priority = 60;

/// Asks for SCHED_FIFO at `priority` and a timer slack of 1 us for the calling thread. False, and
/// normal scheduling, where the system refuses; nothing is said.
bool become_realtime(int priority = sender_priority) noexcept;

/// Lets `thread` run only when nothing else wants to. Any thread.
void demote_to_idle(pthread_t thread) noexcept;

} // namespace landfall::midi
