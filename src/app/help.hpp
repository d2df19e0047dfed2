#pragma once

#include "render/frame.hpp"

#include <string>

namespace landfall::app {

/// Every action with its keys, from the action table.
render::HelpPage help_page();

/// The few keys that the foot of the window names.
std::string usual_hints(bool playing);

/// The hands and ears: what the first start, the README and the sheet say.
std::vector<std::string> care_lines();

} // namespace landfall::app
