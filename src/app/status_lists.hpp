#pragma once

#include "app/lists.hpp"
#include "theory/key.hpp"

namespace landfall::app {

// Lists for what the status line says and keys only step through.

/// `key:N` for every key of the present one's mode, N half steps away.
ChoiceList key_list(theory::Key present);

/// `tempo:N` for every whole number of beats a minute.
ChoiceList tempo_list(long present);

/// `feel:NAME` for each.
ChoiceList feel_list(const std::vector<std::string>& names, const std::string& present);

} // namespace landfall::app
