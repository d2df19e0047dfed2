#pragma once

#include "neck/view.hpp"
#include "practice/choice.hpp"
#include "practice/hand.hpp"
#include "song/form.hpp"

namespace landfall::app {

/// What the hand plays from under a choice. Where the chosen place does not exist in this key on
/// this instrument, the nearest one that does. `instrument` must outlive the setting.
neck::Setting setting_of(const neck::Instrument& instrument, const practice::Choice& choice);

using practice::in_key;

} // namespace landfall::app
