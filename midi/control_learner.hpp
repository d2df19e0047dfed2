#pragma once

#include "midi/control_binding.hpp"
#include "midi/input_event.hpp"

#include <optional>
#include <vector>

namespace landfall::midi {

/// A control that was moved, and how it seems to move.
struct Learned {
  std::uint8_t input = 0;
  Control control; ///< On the channel that it was heard on.
  ControlWay way = ControlWay::momentary;
};

/// Finds out which control the player means by what is moved first, and how it moves by what it
/// sends within `listening`. One thread; reads no clock.
class ControlLearner {
public:
  static constexpr std::chrono::milliseconds listening{700};

  /// `action` is what it is to be bound to: a wheel or knob is learned whole for what takes a
  /// value, and as a switch for what does not.
  explicit ControlLearner(const ControlAction& action) : action_(action) {}

  void hear(const StampedMessage& message);

  /// What was learned by `now`, when it is clear.
  std::optional<Learned> learned(TimePoint now) const;

  /// Whether something has been moved already.
  bool hears() const { return !heard_.empty(); }

private:
  bool is_meant(const StampedMessage& message) const;
  ControlWay way() const;

  ControlAction action_;
  std::optional<Learned> control_;
  std::vector<StampedMessage> heard_; ///< Of that control.
};

} // namespace landfall::midi
