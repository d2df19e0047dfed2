#pragma once

#include "practice/choice.hpp"
#include "theory/result.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace landfall::practice {

/// A command in one line, as takes store it: `key F#m`, `place shape E fret 12`,
/// `set over chord fixed degrees 1 b3 4 5 b7 name minor pentatonic`, `tempo 500000`, `loop 3 6`,
/// `end`. Reads back as the same command, but for the instrument of a SetKeyMoves.
std::string command_text(const Command& command);

/// Reads a line of command_text. The error's column is that of the first word that was not
/// expected.
Result<Command> read_command(std::string_view line);

/// The commands that make a choice of a Choice{}.
std::vector<Command> commands_for(const Choice& choice);

} // namespace landfall::practice
