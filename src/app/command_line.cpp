#include "app/command_line.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <deque>
#include <ostream>
#include <sstream>

namespace landfall::app {
namespace {

std::string one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

} // namespace

struct CommandLine::Option::Added {
  CLI::Option* option;
  OptionRecord record;
};

namespace {

using Added = CommandLine::Option::Added;

/// `-o,--output` as its two names.
std::vector<std::string> names_in(const std::string& text) {
  std::vector<std::string> names;
  std::istringstream in(text);
  for (std::string name; std::getline(in, name, ',');)
    names.push_back(name);
  return names;
}

} // namespace

struct CommandLine::Parser {
  CLI::App app;
  std::deque<Added> added; ///< Options point into it.

  Added& keep(CLI::Option* option, const std::string& name, const std::string& help) {
    added.push_back({option, {names_in(name), help, false, false, false, "", "", {}}});
    return added.back();
  }

  template <typename Variable>
  Option add(const std::string& name, Variable& variable, const std::string& help) {
    return Option(keep(app.add_option(name, variable, help), name, help));
  }
};

CommandLine::Option& CommandLine::Option::required() {
  option_->record.required = true;
  return option_->option->required(), *this;
}

CommandLine::Option& CommandLine::Option::range(int low, int high) {
  option_->record.range = std::to_string(low) + " to " + std::to_string(high);
  return option_->option->check(CLI::Range(low, high)), *this;
}

CommandLine::Option& CommandLine::Option::show_default() {
  option_->option->capture_default_str();
  option_->record.when_unset = option_->option->get_default_str();
  return *this;
}

CommandLine::Option&
CommandLine::Option::check(std::function<std::string(const std::string&)> problem,
                           const std::string& kind) {
  return option_->option->check(CLI::Validator(std::move(problem), "", kind)), *this;
}

bool CommandLine::Option::given() const {
  return option_->option->count() > 0;
}

CommandLine::Option& CommandLine::Option::values(std::vector<std::string> values) {
  option_->record.completion.values = std::move(values);
  return *this;
}

CommandLine::Option& CommandLine::Option::names(const std::string& kinds, bool or_file) {
  option_->record.completion.names = kinds;
  option_->record.completion.file = or_file;
  return *this;
}

CommandLine::Option& CommandLine::Option::file() {
  option_->record.completion.file = true;
  return *this;
}

CommandLine::CommandLine(const std::string& about, const std::string& name)
    : parser_(new Parser{CLI::App{about, name}, {}}) {}

CommandLine::~CommandLine() = default;

CommandLine::Option CommandLine::option(const std::string& name, std::string& variable,
                                        const std::string& help) {
  return parser_->add(name, variable, help);
}

CommandLine::Option CommandLine::option(const std::string& name, int& variable,
                                        const std::string& help) {
  return parser_->add(name, variable, help);
}

CommandLine::Option CommandLine::option(const std::string& name, double& variable,
                                        const std::string& help) {
  return parser_->add(name, variable, help);
}

CommandLine::Option CommandLine::option(const std::string& name, std::uint64_t& variable,
                                        const std::string& help) {
  return parser_->add(name, variable, help);
}

CommandLine::Option CommandLine::option(const std::string& name, std::optional<int>& variable,
                                        const std::string& help) {
  return parser_->add(name, variable, help);
}

CommandLine::Option CommandLine::option(const std::string& name, std::optional<double>& variable,
                                        const std::string& help) {
  return parser_->add(name, variable, help);
}

CommandLine::Option CommandLine::option(const std::string& name, std::vector<std::string>& variable,
                                        const std::string& help) {
  const auto option = parser_->add(name, variable, help);
  parser_->added.back().record.many = true;
  return option;
}

CommandLine::Option CommandLine::flag(const std::string& name, bool& variable,
                                      const std::string& help) {
  auto& added = parser_->keep(parser_->app.add_flag(name, variable, help), name, help);
  added.record.flag = true;
  return Option(added);
}

void CommandLine::version(const std::string& name, const std::string& text,
                          const std::string& help) {
  parser_->keep(parser_->app.set_version_flag(name, text, help), name, help).record.flag = true;
}

void CommandLine::footer(const std::string& text) {
  parser_->app.footer(text);
}

CommandRecord CommandLine::record() const {
  const auto& app = parser_->app;
  CommandRecord record{app.get_name(), app.get_description(), {}};
  for (const auto& added : parser_->added)
    record.options.push_back(added.record);
  const auto* help = app.get_help_ptr();
  record.options.push_back({names_in(help->get_name(false, true)),
                            help->get_description(),
                            true,
                            false,
                            false,
                            "",
                            "",
                            {}});
  return record;
}

std::optional<int> CommandLine::parse(const Arguments& arguments, const Streams& streams) {
  if (streams.record != nullptr)
    return *streams.record = record(), exit_ok;
  auto& app = parser_->app;
  auto reversed = Arguments(arguments.rbegin(), arguments.rend());
  try {
    app.parse(reversed);
  } catch (const CLI::CallForHelp&) {
    streams.out << app.help();
    return exit_ok;
  } catch (const CLI::CallForVersion& version) {
    streams.out << version.what() << '\n';
    return exit_ok;
  } catch (const CLI::ParseError& error) {
    complain(streams, one_line(error.what()) + " (see " + app.get_name() + " --help)");
    return exit_usage;
  }
  return std::nullopt;
}

} // namespace landfall::app
