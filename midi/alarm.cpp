#include "midi/alarm.hpp"

#include <ctime>

namespace landfall::midi {

#ifdef LANDFALL_HAVE_SEM_CLOCKWAIT

// libstdc++'s steady_clock is CLOCK_MONOTONIC.
Alarm::Alarm() {
  sem_init(&semaphore_, 0, 0);
}

Alarm::~Alarm() {
  sem_destroy(&semaphore_);
}

void Alarm::wait_until(TimePoint deadline) noexcept {
  if (deadline == TimePoint::max()) {
    sem_wait(&semaphore_);
  } else {
    const auto since = deadline.time_since_epoch().count();
    const timespec until{since / 1'000'000'000, since % 1'000'000'000};
    sem_clockwait(&semaphore_, CLOCK_MONOTONIC, &until);
  }
  while (sem_trywait(&semaphore_) == 0) {
    // several wake-ups are one
  }
}

void Alarm::wake() noexcept {
  sem_post(&semaphore_);
}

#else

Alarm::Alarm() = default;
Alarm::~Alarm() = default;

void Alarm::wait_until(TimePoint deadline) noexcept {
  std::unique_lock lock(mutex_);
  const auto woken = [this] { return woken_; };
  if (deadline == TimePoint::max())
    condition_.wait(lock, woken);
  else
    condition_.wait_until(lock, deadline, woken);
  woken_ = false;
}

void Alarm::wake() noexcept {
  {
    const std::lock_guard lock(mutex_);
    woken_ = true;
  }
  condition_.notify_one();
}

#endif

} // namespace landfall::midi
