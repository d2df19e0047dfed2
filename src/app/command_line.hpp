#pragma once

#include "app/command.hpp"
#include "app/command_record.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace landfall::app {

/// The options of one command. CLI11 is behind it, in one file only: its headers cost seconds each
/// time that they are read.
class CommandLine {
public:
  /// An option that was added; its functions return it again.
  class Option {
  public:
    struct Added;
    explicit Option(Added& option) : option_(&option) {}

    Option& required();
    /// Numbers from `low` to `high`, both included.
    Option& range(int low, int high);
    /// Shows what the variable holds now as the default in the help.
    Option& show_default();
    /// `problem` gives one line for a wrong value, else an empty text; `kind` is for the help.
    Option& check(std::function<std::string(const std::string&)> problem, const std::string& kind);
    // What Tab offers in its place; neither is checked.
    Option& values(std::vector<std::string> values);
    /// As Completion::names has them, and paths too where `or_file`.
    Option& names(const std::string& kinds, bool or_file = false);
    Option& file();
    /// Whether it was given. To be asked after parse().
    bool given() const;

  private:
    Added* option_; ///< Owned by the command line.
  };

  /// `name` is the command as it is typed: `landfall play`.
  CommandLine(const std::string& about, const std::string& name);
  ~CommandLine();
  CommandLine(const CommandLine&) = delete;
  CommandLine& operator=(const CommandLine&) = delete;

  // A name without dashes is a value by its place. The variable must outlive parse().
  Option option(const std::string& name, std::string& variable, const std::string& help);
  Option option(const std::string& name, int& variable, const std::string& help);
  Option option(const std::string& name, double& variable, const std::string& help);
  Option option(const std::string& name, std::uint64_t& variable, const std::string& help);
  Option option(const std::string& name, std::optional<int>& variable, const std::string& help);
  Option option(const std::string& name, std::optional<double>& variable, const std::string& help);
  Option option(const std::string& name, std::vector<std::string>& variable,
                const std::string& help);
  Option flag(const std::string& name, bool& variable, const std::string& help);
  /// Prints `text` and ends.
  void version(const std::string& name, const std::string& text, const std::string& help);
  void footer(const std::string& text);

  /// Parses `arguments` (without the program's and the command's name). Returns what to exit with
  /// when there is nothing more to do: after --help, after a wrong option, which is said in one
  /// line, or where only a record is wanted.
  std::optional<int> parse(const Arguments& arguments, const Streams& streams);

private:
  CommandRecord record() const;

  struct Parser;
  std::unique_ptr<Parser> parser_;
};

} // namespace landfall::app
