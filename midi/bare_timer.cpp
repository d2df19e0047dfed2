#include "midi/bare_timer.hpp"

#include <ctime>
#include <memory>
#include <thread>

namespace landfall::midi {
namespace {

void sleep_until(TimePoint deadline) {
#ifdef __linux__
  const auto since = deadline.time_since_epoch().count();
  const timespec until{since / 1'000'000'000, since % 1'000'000'000};
  while (clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &until, nullptr) != 0) {
    // a signal came first
  }
#else
  std::this_thread::sleep_until(deadline);
#endif
}

} // namespace

void measure_bare_timer(int count, Nanoseconds interval, LatenessHistogram& lateness,
                        int priority) {
  std::thread([&] {
    become_realtime(priority);
    auto deadline = Clock::now();
    for (int i = 0; i < count; ++i) {
      deadline += interval;
      sleep_until(deadline);
      lateness.add(Clock::now() - deadline);
    }
  }).join();
}

LatenessSummary measure_bare_timer(int count, Nanoseconds interval, int priority) {
  const auto lateness = std::make_unique<LatenessHistogram>();
  measure_bare_timer(count, interval, *lateness, priority);
  return lateness->summary();
}

} // namespace landfall::midi
