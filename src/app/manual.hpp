#pragma once

#include "app/command_record.hpp"

namespace landfall::app {

/// What a value is called in help and man page: `FILE`, or the option's long name in capitals.
std::string value_name(const OptionRecord& option);

/// What is said of an option, with what it takes and what holds without it: `How many (1 to 1000;
/// without it 1)`.
std::string option_words(const OptionRecord& option);

/// The man page of the program with all commands, as roff with man macros. `date` is written as it
/// is.
std::string man_page(const std::vector<CommandRecord>& commands, const std::string& version,
                     const std::string& date);

} // namespace landfall::app
