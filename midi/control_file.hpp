#pragma once

#include "midi/control_binding.hpp"
#include "theory/result.hpp"

#include <span>
#include <string>
#include <string_view>

/// Files of bindings, `.controls`, a line each:
///
///     # The pedal board on stage
///     device: Step
///     hold: 500 ms
///     again: 300 ms
///     controller 64: start-stop
///     controller 64 long: end-now
///     controller 64 double: from-the-top
///     note 36 channel 10: mute-drums
///     controller 7 absolute: tempo
///     controller 20 relative: key-up
///     program 3: place-up
///     wheel: bass-level
///
/// `device` is a part of a port's name, in any case, and holds for the lines below it; before it,
/// lines hold for every device. Notes and controllers count from 0, channels and programs from 1; a
/// line without a channel holds for all. After them comes how the control moves, if it is not a
/// momentary switch: `latching`, `absolute`, `relative` (1 forwards, 127 back), `relative offset`
/// (65 and 63), `relative signed` (1 and 65); and `long` or `double` for other presses than one. A
/// wheel is absolute; `wheel up` and `wheel down` are switches. Behind the colon stands an action.
namespace landfall::midi {

/// Bounds of a file.
inline constexpr std::size_t most_bindings = 512, most_line = 400;

/// The bindings of a file, or the first thing wrong in it: a line that can't be read, an action
/// that is not among `actions` or does not suit the control, a control bound twice.
Result<ControlMap> parse_controls(std::string_view text, std::span<const ControlAction> actions);

/// A text that reads back as `map`.
std::string controls_text(const ControlMap& map);

} // namespace landfall::midi
