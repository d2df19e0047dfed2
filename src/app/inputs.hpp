#pragma once

#include "midi/control_binding.hpp"
#include "midi/ports.hpp"
#include "midi/rtmidi_ports.hpp"

#include <deque>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

namespace landfall::app {

/// Who plays an input. Controls: a foot switch, pads or a clock, which only drive the program.
enum class InputRole : std::uint8_t { player, teacher, controls };

/// Which inputs are wanted.
struct InputWish {
  std::string player; ///< none, virtual, part of a port's name; "" for the first there is.
  std::string teacher = "none"; ///< The same; never the player's own port, "" for none.
  midi::ControlMap controls;    ///< Ports of the devices that they name are opened too.
  bool all = false;             ///< Every port there is, while a control is learned.
  std::string clock = {}; ///< Whose MIDI clock is followed: virtual, part of a name; "" for none.

  bool operator==(const InputWish&) const = default;
};

/// `midi::StampedMessage::input` of each role; controls count upwards from the last.
inline constexpr std::uint8_t player_input = 0, teacher_input = 1, first_control_input = 2;
inline constexpr std::uint8_t most_inputs = 10;

/// An input that is wanted and there, or that is open.
struct InputInfo {
  std::uint8_t number = player_input;
  InputRole role = InputRole::player;
  std::string name; ///< The port's, or `virtual`.

  bool operator==(const InputInfo&) const = default;
};

/// The ports among `names` that a wish means, none of them twice. Numbers of controls are those of
/// `open` where these have the port, else the lowest free.
std::vector<InputInfo> wanted_inputs(const InputWish& wish, const std::vector<std::string>& names,
                                     const std::vector<InputInfo>& open);

/// The inputs that are open. tend() and what it calls may block: device worker only.
class Inputs {
public:
  Inputs() = default;
  Inputs(const Inputs&) = delete;
  Inputs& operator=(const Inputs&) = delete;

  /// Opens and closes what is wanted among `ports`. What belonged to a dead sound server is left
  /// behind, which is returned.
  bool tend(const InputWish& wish, const std::vector<midi::PortInfo>& ports);
  /// Closes everything; returns as tend().
  bool close();
  /// Whether any is of a sound server: then it must be told when that has gone.
  bool uses(std::string_view api) const;
  std::vector<std::string> ports_of(std::string_view api) const;
  void lose(std::string_view api);
  /// Ports that are still there, or again, but no longer connected to us: tend() opens them anew.
  void loosen(const std::vector<std::string>& names);

  /// Who is told of the clock that the wish names. To be set before the first tend().
  void set_clock_link(midi::ClockLink* link) { clock_link_ = link; }
  /// The port whose clock is followed; empty when it is not there.
  std::string clock_port() const;

  /// Looks whether an input has fallen silent in spite of its active sensing, broke off in the
  /// midst of a message, or sent more than could be read: several times a second. What such an
  /// input holds, like what one held that is closed, is let go by messages that pop() gives.
  /// Returns the numbers of those whose thru notes must end. Worker.
  std::vector<std::uint8_t> watch(TimePoint now);

  /// The lane of an input's number gets what the player (0) or the teacher (1) plays; null for
  /// none.
  void set_thru(std::uint8_t number, midi::Sender* sender);
  bool has(InputRole role) const;
  std::vector<InputInfo> open() const;
  /// A number that no other port of an input had before; 0 where it has none.
  std::uint64_t opening_of(std::uint8_t number) const;
  /// One line about an input, empty when all is well.
  std::string notice() const;

  /// The next message of all inputs, by their stamps. Any thread.
  bool pop(midi::StampedMessage& message);
  /// Messages lost because nobody popped. Any thread.
  std::uint64_t drops() const;

private:
  struct Port {
    InputInfo info;
    std::string api;
    std::unique_ptr<midi::RtMidiInput> port;
    std::uint64_t opening = 0; ///< How many were opened before, and this.
    bool lost = false;         ///< With its sound server.
    bool clock = false;        ///< It is listened to for its clock.
    bool loose = false;        ///< See loosen().
    bool silent = false;       ///< By its own active sensing.
    std::uint64_t drops = 0;
  };

  static std::string trouble(Port& port, TimePoint now);
  void say(std::string line, TimePoint now);
  void let_notes_go(std::uint8_t input, TimePoint now);
  bool let_go(std::vector<Port> ports);
  bool close_unwanted(const std::vector<InputInfo>& wanted);
  void open(const InputInfo& wanted);
  void connect_clock(const InputWish& wish);
  void note_missing(const InputWish& wish, const std::vector<InputInfo>& before);

  std::string notice_, trouble_;
  TimePoint trouble_until_;
  midi::ClockLink* clock_link_ = nullptr;
  std::uint64_t openings_ = 0;
  mutable std::mutex mutex_;
  std::deque<midi::StampedMessage> letting_go_; ///< Under the mutex.
  std::vector<Port> ports_;                     ///< Changed by the worker only, under the mutex.
};

} // namespace landfall::app
