#pragma once

#include "theory/set_book.hpp"

#include <string>

namespace landfall::app {

/// The player's own note sets and fitting table, from `sets.txt` in the configuration folder; the
/// usual ones where there is no such file. Read once.
const theory::SetBook& own_sets();

/// One line where the file could not be read; empty if all is well.
std::string own_sets_problem();

} // namespace landfall::app
