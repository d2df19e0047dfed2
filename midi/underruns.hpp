#pragma once

#include "time/ticks.hpp"

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <memory>

namespace landfall::midi {

/// Counts how often an audio device had to go without sound, for drivers that don't tell: it asks
/// for a block later than all that it was given lasts. Devices may ask for several blocks at once;
/// those count together. One thread calls block(); real-time safe.
class Underruns {
public:
  /// `spare` is how long the device still plays when it asks for more, in blocks.
  Underruns(double sample_rate, double spare) : frame_ns_(1e9 / sample_rate), spare_(spare) {}

  /// The device asks at `now` for `frames` frames.
  void block(TimePoint now, std::size_t frames) noexcept {
    const auto length = static_cast<double>(frames) * frame_ns_;
    const auto gap = static_cast<double>((now - last_).count());
    if (running_ && gap > given_ + spare_ * length)
      count_->fetch_add(1, std::memory_order_relaxed);
    const bool at_once = running_ && gap < length / 4;
    given_ = (at_once ? given_ : 0) + length;
    last_ = now;
    running_ = true;
  }

  /// How many there were; may be read by any thread, also when this is gone.
  std::shared_ptr<const std::atomic<std::uint64_t>> counter() const { return count_; }

private:
  double frame_ns_;
  double spare_;
  double given_ = 0; ///< What was asked for without a wait in between, in nanoseconds.
  bool running_ = false;
  TimePoint last_;
  std::shared_ptr<std::atomic<std::uint64_t>> count_ =
      std::make_shared<std::atomic<std::uint64_t>>(0);
};

} // namespace landfall::midi
