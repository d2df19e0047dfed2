#include "app/bare_timer.hpp"

#include "midi/alarm.hpp"
#include "midi/realtime.hpp"

#include <memory>
#include <thread>

namespace landfall::app {

midi::LatenessSummary measure_bare_timer(int count) {
  const auto histogram = std::make_unique<midi::LatenessHistogram>();
  std::thread([&] {
    midi::become_realtime();
    midi::Alarm alarm;
    TimePoint deadline = Clock::now();
    for (int i = 0; i < count; ++i) {
      deadline += std::chrono::milliseconds(1);
      alarm.wait_until(deadline);
      histogram->add(Clock::now() - deadline);
    }
  }).join();
  return histogram->summary();
}

} // namespace landfall::app
