#include "midi/input_intake.hpp"

#include "midi/message.hpp"

#include <algorithm>
#include <thread>

namespace landfall::midi {

void InputIntake::take(std::span<const std::uint8_t> bytes, TimePoint time) noexcept {
  StampedMessage stamped{time, {}};
  if (bytes.empty())
    return;
  sensing_.hear(bytes.front(), time);
  if (bytes.front() == ActiveSensing::status || bytes.size() > stamped.message.bytes.size())
    return;
  std::copy(bytes.begin(), bytes.end(), stamped.message.bytes.begin());
  stamped.message.size = static_cast<std::uint8_t>(bytes.size());
  if (!is_valid(stamped.message))
    return;
  if (status_of(stamped.message) == Status::system) {
    in_callback_ = true;
    if (ClockLink* clock = clock_)
      clock->hear(stamped.message, time);
    in_callback_ = false;
    if (stamped.message.bytes[0] == clock_byte)
      return;
  }
  messages_.push(stamped);
  if (controls_.covers(stamped.message))
    return;
  in_callback_ = true;
  if (Sender* sender = thru_) {
    sender->thru(lane_).queue.push({stamped.time, stamped.message});
    sender->wake();
  }
  in_callback_ = false;
}

void InputIntake::wait_for_callback() const noexcept {
  while (in_callback_)
    std::this_thread::yield();
}

void InputIntake::set_thru(Sender* sender, std::size_t lane) noexcept {
  thru_ = nullptr;
  wait_for_callback();
  lane_ = lane;
  thru_ = sender;
}

void InputIntake::set_clock(ClockLink* link) noexcept {
  clock_ = nullptr;
  wait_for_callback();
  clock_ = link;
}

} // namespace landfall::midi
