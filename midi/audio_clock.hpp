#pragma once

#include "time/ticks.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace landfall::midi {

/// Tells which frame of an audio stream belongs to a time on the program's clock, from the times at
/// which the device asks for more. Those jitter; a second-order delay-locked loop takes their mean
/// (F. Adriaensen, "Using a DLL to filter time", 2005). Fixed size, real-time safe, one thread.
class AudioClock {
public:
  static constexpr double most_tolerance = 1e9; ///< For devices that ask as they like.

  /// A device may ask up to `tolerance` blocks early or late; where it is off by more, it has left
  /// something out and the estimate begins anew: by more than 50 ms in any case, by less than
  /// 1.5 ms in none.
  explicit AudioClock(double sample_rate, double tolerance = most_tolerance)
      : nominal_(1e9 / sample_rate), tolerance_(tolerance) {
    reset({});
  }

  /// The device asks at `now` for the `frames` frames from `first` on.
  void block(TimePoint now, std::int64_t first, std::size_t frames) noexcept {
    const double expected = since_start(next_time_);
    const double actual = since_start(now);
    const double error = actual - expected;
    const auto length = static_cast<double>(frames);
    if (!running_ || std::abs(error) > std::clamp(tolerance_ * length * nominal_, least, most)) {
      reset(now);
      running_ = true;
      time_ = now;
    } else {
      constexpr double bandwidth = 0.5; // Hz
      const double omega = 6.283185307179586 * bandwidth * length * frame_ * 1e-9;
      time_ = next_time_ + to_duration(1.4142135623730951 * omega * error);
      frame_ += omega * omega * error / length;
    }
    first_ = first;
    next_time_ = time_ + to_duration(length * frame_);
  }

  /// The frame that sounds, or would be asked for, at `time`; fractions rounded down.
  std::int64_t frame_at(TimePoint time) const noexcept {
    const double frames = static_cast<double>((time - time_).count()) / frame_;
    const auto whole = static_cast<std::int64_t>(frames);
    return first_ + whole - (frames < static_cast<double>(whole) ? 1 : 0);
  }

private:
  static constexpr double least = 1.5e6, most = 50e6; // nanoseconds

  static Nanoseconds to_duration(double nanoseconds) noexcept {
    return Nanoseconds{static_cast<std::int64_t>(nanoseconds)};
  }
  double since_start(TimePoint time) const noexcept {
    return static_cast<double>((time - start_).count());
  }
  void reset(TimePoint now) noexcept {
    start_ = time_ = next_time_ = now;
    frame_ = nominal_;
  }

  double nominal_; ///< Nanoseconds in a frame, as the device claims.
  double tolerance_;
  double frame_ = nominal_; ///< The same as measured.
  bool running_ = false;
  TimePoint start_;
  TimePoint time_;      ///< When the block that begins at first_ was asked for.
  TimePoint next_time_; ///< When the next should be.
  std::int64_t first_ = 0;
};

} // namespace landfall::midi
