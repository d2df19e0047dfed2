#include "app/input_desk.hpp"

#include <algorithm>

namespace landfall::app {

void InputDesk::follow(const std::vector<InputInfo>& open, const InputSetups& setups) {
  std::erase_if(seats_, [&](const auto& seat) {
    return std::none_of(open.begin(), open.end(), [&](const auto& info) {
      return info.number == seat.first && info.name == seat.second.port;
    });
  });
  for (const auto& info : open) {
    const auto setup = setup_of(setups, info.name);
    const auto found = seats_.find(info.number);
    if (found == seats_.end())
      seats_.emplace(info.number, Seat{info.name, midi::InputReader(setup), {}, false});
    else if (found->second.reader.setup() != setup)
      found->second.reader = midi::InputReader(setup);
  }
}

std::span<const midi::InputEvent> InputDesk::read(const midi::StampedMessage& message) {
  const auto seat = seats_.find(message.input);
  if (seat == seats_.end())
    return {};
  seat->second.detector.hear(message.message);
  return seat->second.reader.read(message);
}

midi::InputSetup InputDesk::setup(std::uint8_t input) const {
  const auto seat = seats_.find(input);
  return seat == seats_.end() ? midi::InputSetup{} : seat->second.reader.setup();
}

std::string InputDesk::port(std::uint8_t input) const {
  const auto seat = seats_.find(input);
  return seat == seats_.end() ? "" : seat->second.port;
}

std::optional<ModeProposal> InputDesk::proposal() const {
  for (const auto& [number, seat] : seats_) {
    const auto& present = seat.reader.setup();
    const auto proposed = seat.declined ? std::nullopt : seat.detector.proposal(present);
    if (!proposed)
      continue;
    auto setup = present;
    setup.mode = proposed->mode;
    setup.base_channel = proposed->base_channel;
    setup.strings = proposed->strings;
    return ModeProposal{seat.port, setup};
  }
  return std::nullopt;
}

void InputDesk::decline(const std::string& port) {
  for (auto& [number, seat] : seats_)
    seat.declined = seat.declined || seat.port == port;
}

} // namespace landfall::app
