#pragma once

#include <string>
#include <vector>

namespace landfall::app {

/// What stands in the place of a value, for those who write a command line with Tab.
struct Completion {
  std::vector<std::string> values; ///< These and no others.
  /// Names that are looked up when they are wanted: what names_of() takes, with blanks between.
  std::string names;
  bool file = false; ///< A path; beside names, a path too.
};

/// An option of a command, as it was added.
struct OptionRecord {
  /// `-o` and `--output`; of a value by its place one name without dashes.
  std::vector<std::string> names;
  std::string help;
  bool flag = false; ///< Takes no value.
  bool required = false;
  bool many = false;      ///< A value by its place that may come several times.
  std::string range;      ///< `1 to 1000`; empty where there is none.
  std::string when_unset; ///< The default; empty where none is shown.
  Completion completion;

  bool by_place() const { return !names.front().starts_with('-'); }
};

/// A command with all its options: what `--help`, the man page and the completions are made of.
struct CommandRecord {
  std::string name; ///< As it is typed: `landfall play`.
  std::string about;
  std::vector<OptionRecord> options;

  /// `play`; empty for the window.
  std::string sub() const {
    const auto blank = name.find(' ');
    return blank == std::string::npos ? "" : name.substr(blank + 1);
  }
};

/// Every command, the window first. Each is asked for its own; none runs.
std::vector<CommandRecord> command_records();

} // namespace landfall::app
