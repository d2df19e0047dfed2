#include "app/shell_completion.hpp"

#include <sstream>

namespace landfall::app {
namespace {

// `cur` is what is being written, without quotes. Offers what begins with it, quoted where it has
// to be; nothing leaves the field to file names.
constexpr const char* head = R"~(# bash completion for landfall; made by the program's build
_landfall_offer() { # WORDS, a line each
  local word
  while IFS= read -r word; do
    [[ -n $word && $word == "$cur"* ]] && COMPREPLY+=("$(printf '%q' "$word")")
  done <<<"$1"
}

_landfall() {
  COMPREPLY=()
  local cur=${COMP_WORDS[COMP_CWORD]} prev= command=
  cur=${cur//[\\\"\']/}
  ((COMP_CWORD == 0)) || prev=${COMP_WORDS[COMP_CWORD - 1]}
  ((COMP_CWORD < 2)) || command=${COMP_WORDS[1]}
  local options= places= commands=
  case $command in
)~";

constexpr const char* tail = R"~(  if [[ $cur == -* ]]; then
    _landfall_offer "$options"
  else
    _landfall_offer "$commands"
    [[ -z $places ]] || _landfall_offer "$(landfall --names $places 2>/dev/null)"
  fi
}

complete -o bashdefault -o default -F _landfall landfall
)~";

std::string lines(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words)
    text += (text.empty() ? "" : "\\n") + word;
  return "$'" + text + "'";
}

std::string either(const std::vector<std::string>& names) {
  std::string text;
  for (const auto& name : names)
    text += (text.empty() ? "" : " | ") + name;
  return text;
}

/// The case of an option that takes a value.
std::string case_of(const OptionRecord& option) {
  const auto& completion = option.completion;
  std::string text = "    " + either(option.names) + ") ";
  if (!completion.values.empty())
    text += "_landfall_offer " + lines(completion.values) + "; ";
  if (!completion.names.empty())
    text += "_landfall_offer \"$(landfall --names " + completion.names + " 2>/dev/null)\"; ";
  return text + "return ;;\n";
}

void write(std::ostream& out, const CommandRecord& command,
           const std::vector<CommandRecord>& commands) {
  std::vector<std::string> options;
  std::string cases, places;
  for (const auto& option : command.options) {
    if (option.by_place()) {
      places = option.completion.names;
      continue;
    }
    options.insert(options.end(), option.names.begin(), option.names.end());
    if (!option.flag)
      cases += case_of(option);
  }
  out << "  " << (command.sub().empty() ? "*" : command.sub())
      << ")\n    options=" << lines(options) << "\n    places='" << places << "'\n";
  if (command.sub().empty()) {
    std::vector<std::string> names;
    for (const auto& each : commands)
      if (!each.sub().empty())
        names.push_back(each.sub());
    out << "    ((COMP_CWORD != 1)) || commands=" << lines(names) << '\n';
  }
  if (!cases.empty())
    out << "    case $prev in\n" << cases << "    esac\n";
  out << "    ;;\n";
}

} // namespace

std::string bash_completion(const std::vector<CommandRecord>& commands) {
  std::ostringstream out;
  out << head;
  for (const auto& command : commands)
    if (!command.sub().empty())
      write(out, command, commands);
  write(out, commands.front(), commands); // any other first word
  out << "  esac\n" << tail;
  return out.str();
}

} // namespace landfall::app
