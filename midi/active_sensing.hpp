#pragma once

#include "time/ticks.hpp"

#include <atomic>
#include <cstdint>

namespace landfall::midi {

/// Whether an input is still there that promised to say so (MIDI 1.0 Detailed Specification,
/// "Active Sensing"): once 0xFE has come, something comes every 300 ms, or the connection is lost.
/// What never sent 0xFE may be silent for as long as it likes.
class ActiveSensing {
public:
  static constexpr std::uint8_t status = 0xFE;
  /// 300 ms, and what a busy system may be late by.
  static constexpr Nanoseconds limit{450'000'000};

  /// A message of this status has come. The callback's thread; real-time safe.
  void hear(std::uint8_t status_byte, TimePoint time) noexcept;

  /// True from the loss until something comes again; after that, nothing is promised before the
  /// next 0xFE. One thread, not the callback's.
  bool lost(TimePoint now) noexcept;

private:
  std::atomic<Nanoseconds::rep> heard_{0}; ///< When, in the clock's nanoseconds.
  std::atomic<bool> promised_{false};
  bool lost_ = false;
  Nanoseconds::rep heard_at_loss_ = 0;
};

} // namespace landfall::midi
