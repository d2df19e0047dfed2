#pragma once

#include "app/input_setups.hpp"
#include "app/inputs.hpp"
#include "midi/input_reader.hpp"

#include <map>

namespace landfall::app {

/// A mode that an input's messages speak for, other than its own.
struct ModeProposal {
  std::string port;
  midi::InputSetup setup; ///< The port's own, with the proposed mode.
};

/// Reads the messages of all open inputs, each in its own mode. One thread; reads no clock.
class InputDesk {
public:
  /// Which inputs are open, and what is remembered of them. An input that is new, or whose setup
  /// changed, is read afresh: what sounded on it must be let go by the caller.
  void follow(const std::vector<InputInfo>& open, const InputSetups& setups);

  /// As midi::InputReader::read, by the message's input; nothing for one that is not open.
  std::span<const midi::InputEvent> read(const midi::StampedMessage& message);

  /// The usual setup for an input that is not open.
  midi::InputSetup setup(std::uint8_t input) const;
  /// The port's name; empty for an input that is not open.
  std::string port(std::uint8_t input) const;

  /// The first that there is. Nothing is switched by itself.
  std::optional<ModeProposal> proposal() const;
  /// The player declined: nothing is proposed for the port until it is opened again.
  void decline(const std::string& port);

private:
  struct Seat {
    std::string port;
    midi::InputReader reader;
    midi::ModeDetector detector;
    bool declined = false;
  };

  std::map<std::uint8_t, Seat> seats_;
};

} // namespace landfall::app
