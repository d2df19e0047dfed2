#pragma once

#include "render/input.hpp"

#include <optional>
#include <string_view>

namespace landfall::app {

/// The key that a table or a hint names, as if it were pressed: `k`, `?`, `Space`, `Ctrl+Q`, `F5`,
/// `PageUp`. None for any other word.
std::optional<render::KeyPress> key_named(std::string_view name);

/// The key that a click on a hint means: the one that is clicked of `[ ] place`, on the words
/// behind them the first. None where the hint begins with no key.
std::optional<render::KeyPress> key_of_hint(std::string_view hint, std::size_t at);

} // namespace landfall::app
