#include "midi/active_sensing.hpp"

namespace landfall::midi {

void ActiveSensing::hear(std::uint8_t status_byte, TimePoint time) noexcept {
  heard_.store(time.time_since_epoch().count(), std::memory_order_relaxed);
  if (status_byte == status)
    promised_.store(true, std::memory_order_release);
}

bool ActiveSensing::lost(TimePoint now) noexcept {
  const bool promised = promised_.load(std::memory_order_acquire);
  const auto heard = heard_.load(std::memory_order_relaxed);
  lost_ = lost_ && heard == heard_at_loss_;
  if (promised && now - TimePoint{Nanoseconds{heard}} > limit) {
    promised_.store(false, std::memory_order_relaxed);
    lost_ = true;
    heard_at_loss_ = heard;
  }
  return lost_;
}

} // namespace landfall::midi
