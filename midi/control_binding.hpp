#pragma once

#include "midi/message.hpp"
#include "time/ticks.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// What a foot switch, pad, knob or key of an instrument is bound to.
namespace landfall::midi {

enum class ControlKind : std::uint8_t { note, controller, program, wheel };

/// How a control moves. Of relative ones, which values mean which steps.
enum class ControlWay : std::uint8_t {
  momentary,       ///< Down and up again: notes, most switches; from 64 on a controller is down.
  latching,        ///< Each press is one change of value.
  absolute,        ///< Where a knob, pedal or wheel stands.
  relative,        ///< 1, 2, ... forwards; 127, 126, ... back (two's complement).
  relative_offset, ///< 65, 66, ... forwards; 63, 62, ... back.
  relative_signed, ///< 1, 2, ... forwards; 65, 66, ... back.
};

enum class Press : std::uint8_t { once, long_press, twice };

/// One control of a device.
struct Control {
  ControlKind kind = ControlKind::controller;
  int number = 0;             ///< Note, controller or program, 0 to 127. Of a wheel that is pushed
                              ///< like a switch: 1 up, -1 down; 0 as a whole.
  std::optional<int> channel; ///< 0 to 15; none for any.

  bool operator==(const Control&) const = default;
};

/// Whether `message` comes from `control`, its notes' ends and pressure included.
bool belongs(const ShortMessage& message, const Control& control);

struct Binding {
  std::string device; ///< Part of a port's name, in any case; empty for any.
  Control control;
  ControlWay way = ControlWay::momentary;
  Press press = Press::once;
  std::string action; ///< By its name in the table of actions.

  bool operator==(const Binding&) const = default;
};

/// Whether bindings of `device` hold for the port `name`, whatever its client's number is now.
bool is_device(std::string_view device, std::string_view name);

/// How long a long press is held, and how soon the second press of two comes.
struct PressTimes {
  std::chrono::milliseconds hold{500};
  std::chrono::milliseconds again{300};

  bool operator==(const PressTimes&) const = default;
};

/// All controls that are bound, as a file of them says.
struct ControlMap {
  std::vector<Binding> bindings;
  PressTimes times;

  bool operator==(const ControlMap&) const = default;
};

/// What a control may be bound to.
struct ControlAction {
  std::string name;
  bool presses = true; ///< Done by a press.
  bool value = false;  ///< Takes a value: a tempo, a level. Then steps too.
  bool steps = false;  ///< Has a way back, for what turns without end.
};

/// Why two bindings can't stand beside each other; empty if they can.
std::string conflict(const Binding& one, const Binding& other);

/// Why `action` can't be bound so; empty if it can.
std::string misfit(const Binding& binding, const ControlAction& action);

/// `controller 64`, `note 36 on channel 10`, `wheel up`: as in files, channels and programs from 1.
std::string words(const Control& control);
/// ` long`, ` double`, or nothing.
std::string_view press_word(Press press);
/// `latching`, `absolute`, `relative`, `relative offset`, `relative signed`; nothing for momentary.
std::string_view way_word(ControlWay way);

} // namespace landfall::midi
