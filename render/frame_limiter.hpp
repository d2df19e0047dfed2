#pragma once

#include <algorithm>
#include <chrono>

namespace landfall::render {

/// Says how long to wait so that frames do not follow each other faster than `period`. The clock
/// is passed in.
class FrameLimiter {
public:
  using Time = std::chrono::steady_clock::time_point;
  using Duration = std::chrono::steady_clock::duration;

  explicit FrameLimiter(Duration period) : period_(period) {}

  /// Counts a frame as shown `result` after `now`. A late frame starts a new count, so that no
  /// burst follows.
  Duration next(Time now) {
    due_ = std::max(due_ + period_, now);
    if (due_ > now + period_)
      due_ = now + period_;
    return due_ - now;
  }

private:
  Duration period_;
  Time due_{};
};

} // namespace landfall::render
