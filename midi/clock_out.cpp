#include "midi/clock_out.hpp"

namespace landfall::midi {
namespace {

/// More than that away from the next clock is a jump: a quarter note, so that a late wake-up or a
/// suspended process catches up while it can.
constexpr Ticks farthest = quarter;

ShortMessage single(std::uint8_t status) {
  return {{status}, 1};
}

ShortMessage song_position(Ticks at) {
  const auto place = static_cast<unsigned>(floor_div(at, song_position_step) % song_positions);
  return {{song_position_byte, static_cast<std::uint8_t>(place & 0x7F),
           static_cast<std::uint8_t>(place >> 7)},
          3};
}

Ticks first_clock_from(Ticks at) {
  return clock_step * (floor_div(at - Ticks{1}, clock_step) + 1);
}

} // namespace

ClockOut::Batch ClockOut::roll(Ticks now) noexcept {
  const bool jumped = rolls_ && (now > next_ + farthest || now + clock_step * 2 < next_);
  if (rolls_ && !jumped)
    return {};
  Batch batch;
  if (jumped && running_)
    batch.add(single(stop_byte));
  rolls_ = true;
  running_ = false;
  next_ = first_clock_from(now);
  return batch;
}

ClockOut::Batch ClockOut::stop() noexcept {
  Batch batch;
  if (running_)
    batch.add(single(stop_byte));
  rolls_ = running_ = false;
  return batch;
}

ClockOut::Batch ClockOut::take() noexcept {
  Batch batch;
  if (!running_ && next_ >= Ticks{} && floor_mod(next_, song_position_step) == Ticks{}) {
    running_ = true;
    if (next_ > Ticks{})
      batch.add(song_position(next_));
    batch.add(single(next_ > Ticks{} ? continue_byte : start_byte));
  }
  batch.add(single(clock_byte));
  next_ += clock_step;
  return batch;
}

} // namespace landfall::midi
