#pragma once

#include <optional>
#include <string>
#include <vector>

namespace landfall::app {

/// The names that there are of a kind: `songs`, `lessons`, `phrases`, `feels`, `instruments`,
/// `sets`; own and shipped, sorted. None for any other kind. Reads folders.
std::optional<std::vector<std::string>> names_of(const std::string& kind);

} // namespace landfall::app
