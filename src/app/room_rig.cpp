#include "app/room.hpp"

namespace landfall::app {

bool Room::take_messages() {
  bool any = false;
  for (midi::StampedMessage message; devices_.pop(message); any = true)
    for (const auto& event : desk_.read(message))
      hear(event, message.input);
  return any;
}

DeviceWish Room::device_wish() const {
  return {settings_.out, settings_.in, !settings_.own_sound, settings_.teacher, {}, false};
}

void Room::wish_devices() {
  devices_.wish(device_wish());
}

/// Inputs that came, went or are read in another way.
void Room::follow_devices() {
  auto state = devices_.state();
  const bool news = state.ports != device_state_.ports || state.notice != device_state_.notice;
  changed_ = changed_ || news;
  if (state.inputs != device_state_.inputs) {
    if (!device_state_.inputs.empty()) // nobody lets go any more
      hands_.release_all(Clock::now(), tick_now(Clock::now()));
    for (const auto& input : state.inputs)
      if (input.role == InputRole::player)
        remember_input(input.name, mode_wish_.over(setup_of(settings_.inputs, input.name)));
    desk_.follow(state.inputs, settings_.inputs);
  }
  device_state_ = std::move(state);
}

/// What is as usual needs no remembering.
void Room::remember_input(const std::string& port, const midi::InputSetup& setup) {
  if (setup == setup_of(settings_.inputs, port))
    return;
  settings_.inputs[port] = setup;
  hands_.release_all(Clock::now(), tick_now(Clock::now()));
  desk_.follow(device_state_.inputs, settings_.inputs);
}

} // namespace landfall::app
