#include "app/command_line.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <ostream>

namespace landfall::app {
namespace {

std::string one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

CLI::Option& option_of(void* option) {
  return *static_cast<CLI::Option*>(option);
}

} // namespace

struct CommandLine::Parser {
  CLI::App app;

  template <typename Variable>
  Option add(const std::string& name, Variable& variable, const std::string& help) {
    return Option(app.add_option(name, variable, help));
  }
};

CommandLine::Option& CommandLine::Option::required() {
  return option_of(option_).required(), *this;
}

CommandLine::Option& CommandLine::Option::range(int low, int high) {
  return option_of(option_).check(CLI::Range(low, high)), *this;
}

CommandLine::Option& CommandLine::Option::show_default() {
  return option_of(option_).capture_default_str(), *this;
}

CommandLine::Option&
CommandLine::Option::check(std::function<std::string(const std::string&)> problem,
                           const std::string& kind) {
  return option_of(option_).check(CLI::Validator(std::move(problem), "", kind)), *this;
}

bool CommandLine::Option::given() const {
  return option_of(option_).count() > 0;
}

CommandLine::CommandLine(const std::string& about, const std::string& name)
    : parser_(new Parser{CLI::App{about, name}}) {}

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
  return parser_->add(name, variable, help);
}

CommandLine::Option CommandLine::flag(const std::string& name, bool& variable,
                                      const std::string& help) {
  return Option(parser_->app.add_flag(name, variable, help));
}

void CommandLine::version(const std::string& name, const std::string& text,
                          const std::string& help) {
  parser_->app.set_version_flag(name, text, help);
}

void CommandLine::footer(const std::string& text) {
  parser_->app.footer(text);
}

std::optional<int> CommandLine::parse(const Arguments& arguments, const Streams& streams) {
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
