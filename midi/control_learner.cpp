#include "midi/control_learner.hpp"

#include <algorithm>
#include <cstdlib>
#include <set>

namespace landfall::midi {
namespace {

constexpr std::size_t most_heard = 256;
constexpr int moved = 3000; ///< Of a wheel: further than it trembles.
constexpr int far = 8;      ///< A step of an encoder that is turned fast.
constexpr std::size_t few = 3;

std::optional<Control> control_of(const ShortMessage& message) {
  const int channel = channel_of(message);
  switch (status_of(message)) {
  case Status::note_on:
    return is_note_on(message)
               ? std::optional(Control{ControlKind::note, note_of(message), channel})
               : std::nullopt;
  case Status::control: {
    const int number = message.bytes[1];
    const bool parameter = number == controller::data_entry ||
                           number == controller::data_entry_fine ||
                           (number >= controller::nrpn_fine && number <= controller::rpn) ||
                           number >= controller::all_sound_off;
    return parameter ? std::nullopt
                     : std::optional(Control{ControlKind::controller, number, channel});
  }
  case Status::program:
    return Control{ControlKind::program, message.bytes[1], channel};
  case Status::bend: {
    const int value = (message.bytes[1] | (message.bytes[2] << 7)) - 8192;
    return std::abs(value) < moved
               ? std::nullopt
               : std::optional(Control{ControlKind::wheel, value > 0 ? 1 : -1, channel});
  }
  default:
    return std::nullopt;
  }
}

} // namespace

bool ControlLearner::is_meant(const StampedMessage& message) const {
  return message.input == control_->input && belongs(message.message, control_->control);
}

void ControlLearner::hear(const StampedMessage& message) {
  if (!is_valid(message.message))
    return;
  if (!control_) {
    const auto control = control_of(message.message);
    if (!control)
      return;
    control_ = Learned{message.input, *control, ControlWay::momentary};
    if (control->kind == ControlKind::wheel && action_.value)
      control_->control.number = 0;
  }
  if (is_meant(message) && heard_.size() < most_heard)
    heard_.push_back(message);
}

std::optional<Learned> ControlLearner::learned(TimePoint now) const {
  if (!control_)
    return std::nullopt;
  auto learned = *control_;
  if (learned.control.kind == ControlKind::wheel && learned.control.number == 0)
    learned.way = ControlWay::absolute;
  if (learned.control.kind != ControlKind::controller)
    return learned;
  if (now < heard_.front().time + listening)
    return std::nullopt;
  learned.way = way();
  return learned;
}

/// By the values. A switch sends both ends, or the same end at each press, or one end and then
/// nothing. An encoder repeats what lies around 0, 64 or 128, to the right as the player is asked
/// to; a knob sends each value once.
ControlWay ControlLearner::way() const {
  std::vector<int> values;
  for (const auto& message : heard_)
    values.push_back(message.message.bytes[2]);
  const auto all = [&](auto holds) { return std::all_of(values.begin(), values.end(), holds); };
  const auto near = [](int value, int centre) { return std::abs(value - centre) <= far; };
  const bool ends = all([](int value) { return value == 0 || value == 127; });
  const bool one_end = ends && all([&](int value) { return value == values.front(); });
  if ((!action_.value && !action_.steps) || (action_.presses && one_end))
    return values.size() == 1 ? ControlWay::latching : ControlWay::momentary;
  if (ends && std::find(values.begin(), values.end(), 0) != values.end())
    return ControlWay::momentary;
  const std::set<int> distinct(values.begin(), values.end());
  const bool knob = distinct.size() == values.size() && values.size() >= few;
  if (!knob && all([&](int value) { return value != 0 && (near(value, 0) || near(value, 128)); }))
    return ControlWay::relative;
  if (!knob && all([&](int value) { return value != 64 && near(value, 64); }))
    return ControlWay::relative_offset;
  if (!knob && all([&](int value) { return near(value, 1) || (value > 64 && near(value, 64)); }))
    return ControlWay::relative_signed;
  return action_.value ? ControlWay::absolute : ControlWay::momentary;
}

} // namespace landfall::midi
