#pragma once

#include "trade/density.hpp"

#include <string>
#include <vector>

namespace landfall::app {

/// sparse, medium and dense from .density files, the player's own before the shipped ones; where
/// there is none that can be read, the program's own. `problems` are lines for the player.
std::vector<trade::Density> load_densities(std::vector<std::string>& problems);

} // namespace landfall::app
