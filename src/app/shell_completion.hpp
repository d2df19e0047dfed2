#pragma once

#include "app/command_record.hpp"

/// What a shell offers on Tab: commands, options, their values, and names that the program is asked
/// for when they are wanted (`landfall --names`). Each is the text of a script for its shell.
namespace landfall::app {

std::string bash_completion(const std::vector<CommandRecord>& commands);
std::string zsh_completion(const std::vector<CommandRecord>& commands);
std::string fish_completion(const std::vector<CommandRecord>& commands);

} // namespace landfall::app
