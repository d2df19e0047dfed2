#pragma once

#include "midi/active_sensing.hpp"
#include "midi/clock_follower.hpp"
#include "midi/control_mask.hpp"
#include "midi/input_event.hpp"
#include "midi/queue.hpp"
#include "midi/sender.hpp"

#include <atomic>
#include <span>

namespace landfall::midi {

/// What an input's callback does with a message: stamps it and pushes it into a queue, and into a
/// sender's thru lane if there is one and no control is bound to it; nothing else.
class InputIntake {
public:
  static constexpr std::size_t capacity = 4096;

  /// Bytes that are no whole short message, such as system exclusive, are left out, and so is
  /// active sensing, once it is noted; clocks go to the clock's link only. The callback's thread;
  /// real-time safe.
  void take(std::span<const std::uint8_t> bytes, TimePoint time) noexcept;

  /// The next message; false when there is none. One thread; real-time safe.
  bool pop(StampedMessage& message) noexcept { return messages_.pop(message); }
  /// As pop, but the message stays.
  bool peek(StampedMessage& message) const noexcept { return messages_.peek(message); }

  /// Messages lost because nobody popped. Any thread.
  std::uint64_t drops() const noexcept { return messages_.drops(); }

  /// Whether the input has gone, by its own promise. lost(): one thread.
  ActiveSensing& sensing() noexcept { return sensing_; }

  /// What must not be passed on to a sender: controls that are bound. To be set by one thread.
  ControlMask& controls() noexcept { return controls_; }

  /// Passes everything else on to `lane` of `sender` too, until called with null. Waits until the
  /// callback has let go of the sender before. Not real-time.
  void set_thru(Sender* sender, std::size_t lane) noexcept;

  /// Hands clock, start, stop, continue and song position to `link` from now on; null for nobody.
  /// Waits as set_thru does.
  void set_clock(ClockLink* link) noexcept;

private:
  void wait_for_callback() const noexcept;

  ActiveSensing sensing_;
  ControlMask controls_;
  Queue<StampedMessage> messages_{capacity};
  std::atomic<Sender*> thru_{nullptr};
  std::atomic<std::size_t> lane_{0};
  std::atomic<ClockLink*> clock_{nullptr};
  std::atomic<bool> in_callback_{false};
};

} // namespace landfall::midi
