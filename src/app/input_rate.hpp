#pragma once

#include "time/ticks.hpp"

#include <algorithm>
#include <cstdint>

namespace landfall::app {

/// How many messages come in a second. Reads no clock; one thread.
class InputRate {
public:
  struct Reading {
    std::uint64_t now = 0;  ///< In the last whole second.
    std::uint64_t most = 0; ///< In any second so far.
    std::uint64_t all = 0;

    bool operator==(const Reading&) const = default;
  };

  /// A message came in at `time`; times do not go back by much.
  void count(TimePoint time) {
    turn(time);
    ++in_second_;
    ++reading_.all;
    reading_.most = std::max(reading_.most, in_second_);
  }

  Reading reading(TimePoint now) {
    turn(now);
    return reading_;
  }

private:
  void turn(TimePoint time) {
    const auto second = std::chrono::floor<std::chrono::seconds>(time.time_since_epoch()).count();
    if (second <= second_)
      return;
    reading_.now = second == second_ + 1 ? in_second_ : 0;
    in_second_ = 0;
    second_ = second;
  }

  Reading reading_;
  std::uint64_t in_second_ = 0;
  std::int64_t second_ = 0;
};

} // namespace landfall::app
