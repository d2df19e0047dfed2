#include "app/manual.hpp"
#include "app/shell_completion.hpp"

#include <sstream>

namespace landfall::app {
namespace {

constexpr const char* head = R"(# fish completion for landfall; made by the program's build
function __landfall_names
    landfall --names $argv 2>/dev/null
end

)";

std::string quoted(const std::string& text) {
  std::string safe = "'";
  for (const char c : text) {
    if (c == '\\' || c == '\'')
      safe += '\\';
    safe += c;
  }
  return safe + "'";
}

/// What it offers, as the argument of -a; empty for nothing.
std::string offered(const Completion& completion) {
  if (!completion.names.empty())
    return " -a '(__landfall_names " + completion.names + ")'";
  std::string values;
  for (const auto& value : completion.values)
    values += (values.empty() ? "" : " ") + value;
  return values.empty() ? "" : " -a " + quoted(values);
}

std::string line_of(const OptionRecord& option, const std::string& when) {
  std::string line = "complete -c landfall" + when;
  if (option.by_place())
    return line + (option.completion.file ? "" : " -f") + offered(option.completion) + "\n";
  for (const auto& name : option.names)
    line += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
  if (!option.flag)
    line += std::string(option.completion.file ? " -r -F" : " -x") + offered(option.completion);
  return line + " -d " + quoted(option_words(option)) + "\n";
}

} // namespace

std::string fish_completion(const std::vector<CommandRecord>& commands) {
  std::string subs;
  for (const auto& command : commands)
    subs += (subs.empty() ? "" : " ") + command.sub(); // the window has none
  std::ostringstream out;
  out << head;
  for (const auto& command : commands) {
    const bool window = command.sub().empty();
    const auto when = window ? " -n 'not __fish_seen_subcommand_from " + subs + "'"
                             : " -n '__fish_seen_subcommand_from " + command.sub() + "'";
    if (!window)
      out << "complete -c landfall -n __fish_use_subcommand -a " << command.sub() << " -d "
          << quoted(command.about) << '\n';
    for (const auto& option : command.options)
      if (!option.by_place() || !option.completion.names.empty())
        out << line_of(option, when);
  }
  return out.str();
}

} // namespace landfall::app
