#include "app/manual.hpp"
#include "app/shell_completion.hpp"

#include <sstream>

namespace landfall::app {
namespace {

constexpr const char* head = R"~(#compdef landfall
# zsh completion for landfall; made by the program's build

_landfall_names() { # KIND...
  local -a names
  names=("${(@f)$(landfall --names "$@" 2>/dev/null)}")
  compadd -a names
}

_landfall_names_or_files() {
  _landfall_names "$@"
  _files
}

)~";

/// Text between single quotes, with `also` kept from meaning anything to _arguments.
std::string quoted(const std::string& text, const std::string& also) {
  std::string safe;
  for (const char c : text) {
    if (also.find(c) != std::string::npos)
      safe += '\\';
    if (c == '\'')
      safe += "'\\''";
    else
      safe += c;
  }
  return safe;
}

std::string action_of(const Completion& completion) {
  if (!completion.names.empty())
    return std::string("{_landfall_names") + (completion.file ? "_or_files " : " ") +
           completion.names + "}";
  if (completion.file)
    return "_files";
  std::string values;
  for (const auto& value : completion.values)
    values += (values.empty() ? "" : " ") + value;
  return values.empty() ? " " : "(" + values + ")";
}

std::string spec_of(const OptionRecord& option) {
  const auto value = ":" + value_name(option) + ":" + action_of(option.completion);
  if (option.by_place())
    return "    '" +
           std::string(option.many       ? "*"
                       : option.required ? "1"
                                         : "::") +
           (option.many || option.required ? value : value.substr(1)) + "'";
  const auto words =
      "'[" + quoted(option_words(option), "\\[]:") + "]" + (option.flag ? "'" : value + "'");
  if (option.names.size() == 1)
    return "    " + option.names.front() + words;
  std::string all, braces;
  for (const auto& name : option.names) {
    all += (all.empty() ? "" : " ") + name;
    braces += (braces.empty() ? "" : ",") + name;
  }
  return "    '(" + all + ")'{" + braces + "}" + words;
}

void write(std::ostream& out, const CommandRecord& command) {
  out << "_landfall_" << (command.sub().empty() ? "window" : command.sub()) << "() {\n  _arguments";
  for (const auto& option : command.options)
    out << " \\\n" << spec_of(option);
  out << "\n}\n\n";
}

} // namespace

std::string zsh_completion(const std::vector<CommandRecord>& commands) {
  std::ostringstream out, described, cases;
  out << head;
  for (const auto& command : commands) {
    write(out, command);
    if (command.sub().empty())
      continue;
    described << "    '" << command.sub() << ":" << quoted(command.about, "\\:") << "'\n";
    cases << (cases.tellp() > 0 ? " | " : "") << command.sub();
  }
  out << "_landfall() {\n  local -a commands\n  commands=(\n"
      << described.str() << "  )\n  if ((CURRENT == 2)); then\n"
      << "    _describe -t commands 'command' commands\n    _landfall_window\n    return\n  fi\n"
      << "  case $words[2] in\n  " << cases.str() << ")\n"
      << "    local command=$words[2]\n    shift words\n    ((CURRENT--))\n"
      << "    _landfall_$command\n    ;;\n  *) _landfall_window ;;\n  esac\n}\n\n"
      << "_landfall \"$@\"\n";
  return out.str();
}

} // namespace landfall::app
