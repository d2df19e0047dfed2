#include "midi/realtime.hpp"

#include <sched.h>

#ifdef __linux__
#include <sys/prctl.h>
#endif

namespace landfall::midi {

bool become_realtime(int priority) noexcept {
#ifdef __linux__
  prctl(PR_SET_TIMERSLACK, 1000UL, 0UL, 0UL, 0UL);
#endif
  const sched_param wanted{.sched_priority = priority};
  return pthread_setschedparam(pthread_self(), SCHED_FIFO, &wanted) == 0;
}

void demote_to_idle(pthread_t thread) noexcept {
  const sched_param none{.sched_priority = 0};
#ifdef SCHED_IDLE
  pthread_setschedparam(thread, SCHED_IDLE, &none);
#else
  pthread_setschedparam(thread, SCHED_OTHER, &none);
#endif
}

} // namespace landfall::midi
