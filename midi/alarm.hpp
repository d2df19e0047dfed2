#pragma once

#include "time/ticks.hpp"

#include <semaphore.h>

#if defined(__GLIBC__) && defined(__GLIBC_PREREQ)
#if __GLIBC_PREREQ(2, 30)
#define LANDFALL_HAVE_SEM_CLOCKWAIT 1
#endif
#endif

#ifndef LANDFALL_HAVE_SEM_CLOCKWAIT
#include <condition_variable>
#include <mutex>
#endif

namespace landfall::midi {

/// Sleeps until a time on the program's clock, or until it is woken. One thread waits.
class Alarm {
public:
  Alarm();
  ~Alarm();
  Alarm(const Alarm&) = delete;
  Alarm& operator=(const Alarm&) = delete;

  /// Returns at `deadline` or after wake(), also if that came before; TimePoint::max() waits for
  /// wake() alone. May return early. Waiting thread only; neither locks nor allocates.
  void wait_until(TimePoint deadline) noexcept;

  /// Any thread; real-time safe, and safe in a signal handler. (Where the system can't sleep on
  /// this clock in a semaphore, both take a mutex instead.)
  void wake() noexcept;

private:
#ifdef LANDFALL_HAVE_SEM_CLOCKWAIT
  sem_t semaphore_;
#else
  std::mutex mutex_;
  std::condition_variable condition_;
  bool woken_ = false;
#endif
};

} // namespace landfall::midi
