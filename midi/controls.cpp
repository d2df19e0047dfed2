#include "midi/controls.hpp"

#include <algorithm>
#include <utility>

namespace landfall::midi {
namespace {

constexpr int half = 64;
constexpr int pushed = 4096, let_go = 2048; ///< Of a wheel.

int wheel_value(const ShortMessage& message) {
  return (message.bytes[1] | (message.bytes[2] << 7)) - 8192;
}

/// Whether a control is down by this message; `was` where it lies in between.
bool is_down(const Control& control, const ShortMessage& message, bool was) {
  switch (control.kind) {
  case ControlKind::note:
    return is_note_on(message) || (was && !is_note_off(message));
  case ControlKind::controller:
    return message.bytes[2] >= half;
  case ControlKind::wheel: {
    const int value = wheel_value(message) * control.number;
    return value >= pushed || (was && value >= let_go);
  }
  case ControlKind::program:
    break;
  }
  return true;
}

double part_of_way(const Control& control, const ShortMessage& message) {
  return control.kind == ControlKind::wheel ? (wheel_value(message) + 8192) / 16383.0
                                            : message.bytes[2] / 127.0;
}

int steps_of(ControlWay way, int value) {
  switch (way) {
  case ControlWay::relative:
    return value < half ? value : value - 2 * half;
  case ControlWay::relative_offset:
    return value - half;
  case ControlWay::relative_signed:
    return value < half ? value : half - value;
  default:
    return 0;
  }
}

} // namespace

Controls::Controls(const ControlMap& map) : times_(map.times) {
  for (const auto& binding : map.bindings) {
    auto group = std::find_if(groups_.begin(), groups_.end(), [&](const Group& known) {
      return known.device == binding.device && known.control == binding.control;
    });
    if (group == groups_.end())
      group = groups_.insert(group, {binding.device, binding.control, binding.way, {}});
    group->actions[static_cast<std::size_t>(binding.press)] = binding.action;
  }
}

bool Controls::take(const StampedMessage& message, std::string_view port) {
  bool taken = false;
  for (std::size_t i = 0; i < groups_.size(); ++i) {
    const auto& group = groups_[i];
    if (!belongs(message.message, group.control) || !is_device(group.device, port))
      continue;
    taken = true;
    auto& state = states_[{message.input, i}];
    wait(group, state, message.time);
    if (group.way == ControlWay::momentary || group.way == ControlWay::latching)
      move(group, state, message);
    else
      turn(group, state, message);
  }
  return taken;
}

void Controls::move(const Group& group, State& state, const StampedMessage& stamped) {
  const auto& message = stamped.message;
  const int value = message.bytes[2];
  const int before = std::exchange(state.value, value);
  if (group.control.kind == ControlKind::program || group.way == ControlWay::latching) {
    const bool moved = group.control.kind != ControlKind::controller || before != value;
    if (!moved)
      return;
    press(group, state, stamped.time);
    return release(group, state, stamped.time);
  }
  const bool down = is_down(group.control, message, state.down);
  // some switches send the same value at each press, and nothing when they are let go
  const bool again =
      down && state.down && group.control.kind == ControlKind::controller && value == before;
  if (again)
    release(group, state, stamped.time);
  if (down && (!state.down || again))
    press(group, state, stamped.time);
  else if (!down && state.down)
    release(group, state, stamped.time);
}

void Controls::press(const Group& group, State& state, TimePoint time) {
  state.down = true;
  if (state.since && group.has(Press::twice))
    return tell(group, state, Press::twice, time); // wait() has ended what came too late
  state.done = false;
  state.since = time;
  if (!group.has(Press::long_press) && !group.has(Press::twice))
    tell(group, state, Press::once, time);
}

void Controls::release(const Group& group, State& state, TimePoint time) {
  state.down = false;
  if (!state.done && !group.has(Press::twice))
    tell(group, state, Press::once, time);
}

/// Tells what has been decided by the time that went by.
void Controls::wait(const Group& group, State& state, TimePoint now) {
  if (state.done || !state.since)
    return;
  const auto held = *state.since + times_.hold, again = *state.since + times_.again;
  if (state.down && group.has(Press::long_press)) {
    if (now >= held)
      tell(group, state, Press::long_press, held);
  } else if (group.has(Press::twice) && now > again) {
    tell(group, state, Press::once, again);
  }
}

void Controls::tell(const Group& group, State& state, Press press, TimePoint time) {
  state.done = true;
  state.since.reset();
  if (group.has(press))
    asked_.push_back({time, group.action(press), std::nullopt, 0});
}

void Controls::turn(const Group& group, State& state, const StampedMessage& stamped) {
  const auto& message = stamped.message;
  if (group.way == ControlWay::absolute) {
    const int value =
        group.control.kind == ControlKind::wheel ? wheel_value(message) : int{message.bytes[2]};
    if (value != std::exchange(state.value, value))
      asked_.push_back(
          {stamped.time, group.action(Press::once), part_of_way(group.control, message), 0});
  } else if (const int steps = steps_of(group.way, message.bytes[2]); steps != 0) {
    asked_.push_back({stamped.time, group.action(Press::once), std::nullopt, steps});
  }
}

std::optional<Asked> Controls::next(TimePoint now) {
  for (auto& [key, state] : states_)
    wait(groups_[key.second], state, now);
  if (asked_.empty())
    return std::nullopt;
  auto asked = std::move(asked_.front());
  asked_.pop_front();
  return asked;
}

void Controls::forget(std::uint8_t input) {
  std::erase_if(states_, [&](const auto& entry) { return entry.first.first == input; });
}

} // namespace landfall::midi
