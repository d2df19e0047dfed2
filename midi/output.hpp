#pragma once

#include "time/ticks.hpp"

#include <cstdint>
#include <span>

namespace landfall::midi {

/// Where a sender's bytes go: a port, the built-in synth, or a fake.
class Output {
public:
  virtual ~Output() = default;

  /// One whole MIDI message, due at `deadline` (now or a little before). Called by one thread at
  /// real-time priority: must not allocate, lock or wait. Failures are counted, not told.
  virtual void send(std::span<const std::uint8_t> bytes, TimePoint deadline) noexcept = 0;

  /// Messages that could not be sent. Any thread; real-time safe.
  virtual std::uint64_t failures() const noexcept { return 0; }
};

/// Takes everything and sounds nothing: `--out none`, or no audio device.
class SilentOutput final : public Output {
public:
  void send(std::span<const std::uint8_t>, TimePoint) noexcept override {}
};

} // namespace landfall::midi
