#pragma once

#include "app/text_field.hpp"
#include "render/input.hpp"

#include <optional>

namespace landfall::app {

/// Whether a key would type something: it is a field's, where one has the focus, and no command.
/// So is a dead key, which types nothing yet.
bool types(const render::KeyPress& press);

/// What a key does to the field that has the focus: characters, caret, erasing, undo and redo.
/// False for a key that means nothing to a field.
bool press_in(TextField& field, const render::KeyPress& press);

/// How many fields on a key leads that press_in() left: Tab and Shift+Tab, Return out of a field of
/// one line, Up and Down out of its lines; 0 for keys that a form keeps to itself. None for what is
/// the page's or the table's: Escape, function keys, and whatever is pressed with Ctrl or Alt.
std::optional<int> fields_on(const TextField& field, const render::KeyPress& press);

/// The wheel moves the caret through lines; `steps` are positive away from the player.
void scroll_in(TextField& field, int steps);

} // namespace landfall::app
