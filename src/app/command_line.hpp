#pragma once

#include "app/command.hpp"

#include <CLI/CLI.hpp>

#include <optional>

namespace landfall::app {

/// Parses `arguments` (without the program's and the command's name) into `app`. Returns what to
/// exit with when there is nothing more to do: after --help, or after a wrong option, which is
/// said in one line.
std::optional<int> parse(CLI::App& app, const Arguments& arguments, const Streams& streams);

} // namespace landfall::app
