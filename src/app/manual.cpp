#include "app/manual.hpp"

#include <algorithm>
#include <cctype>
#include <sstream>

namespace landfall::app {
namespace {

/// Text as roff takes it: no sign of it is a request or an escape.
std::string roff(const std::string& text) {
  std::string safe;
  for (const char c : text)
    if (c == '\\')
      safe += "\\e";
    else if (c == '-')
      safe += "\\-";
    else if (c == '\'')
      safe += "\\(aq";
    else
      safe += c;
  return safe.starts_with('.') ? "\\&" + safe : safe;
}

std::string bold(const std::string& text) {
  return "\\fB" + roff(text) + "\\fR";
}

std::string italic(const std::string& text) {
  return "\\fI" + roff(text) + "\\fR";
}

/// `-o, --output OUTPUT`
std::string heading_of(const OptionRecord& option) {
  if (option.by_place())
    return italic(option.names.front()) + (option.many ? "..." : "");
  std::string text;
  for (const auto& name : option.names)
    text += (text.empty() ? "" : ", ") + bold(name);
  return option.flag ? text : text + " " + italic(value_name(option));
}

/// `landfall play [OPTIONS] SONG`
std::string synopsis_of(const CommandRecord& command) {
  std::string text = bold(command.name) + " [" + italic("OPTIONS") + "]";
  for (const auto& option : command.options)
    if (option.by_place())
      text += " " + std::string(option.required ? "" : "[") + heading_of(option) +
              (option.required ? "" : "]");
    else if (option.required)
      text += " " + bold(option.names.front()) + " " + italic(value_name(option));
  return text;
}

void write_options(std::ostream& out, const CommandRecord& command) {
  for (const auto& option : command.options)
    out << ".TP\n" << heading_of(option) << '\n' << roff(option_words(option)) << '\n';
}

constexpr const char* after_commands = R"(.SH EXIT STATUS
0 when all is well, 2 when the command line is wrong, 1 when a file, a device or a name is.
.SH ENVIRONMENT
.TP
\fBXDG_CONFIG_HOME\fR, \fBXDG_DATA_HOME\fR
Where your own files are kept, in place of \fI~/.config\fR and \fI~/.local/share\fR.
.TP
\fBLANDFALL_DATA\fR
A folder with what is shipped (songs, feels, fonts), in place of the installed one.
.SH FILES
.TP
\fI~/.config/landfall/settings.json\fR
What the window remembers.
.TP
\fI~/.config/landfall/own.controls\fR, \fI~/.config/landfall/sets.txt\fR
Bound controls, and note sets of your own.
.TP
\fI~/.local/share/landfall/\fR
Your songs, feels, instruments, phrases, set lists and takes, and what you practised.
.SH HANDS AND EARS
Warm up. Rest your hands before they are tired, and stop when it hurts. Keep the volume down,
headphones most of all. Pain or numbness that lasts, or ringing ears, is for a doctor or a
licensed therapist, not for more practice.
)";

} // namespace

std::string value_name(const OptionRecord& option) {
  if (option.by_place())
    return option.names.front();
  if (option.completion.file && option.completion.names.empty())
    return "FILE";
  auto name = option.names.back().substr(option.names.back().find_first_not_of('-'));
  std::ranges::transform(name, name.begin(), [](unsigned char c) { return std::toupper(c); });
  return name;
}

std::string option_words(const OptionRecord& option) {
  std::string more = option.range;
  if (!option.when_unset.empty())
    more += (more.empty() ? "" : "; ") + std::string("without it ") + option.when_unset;
  return more.empty() ? option.help : option.help + " (" + more + ")";
}

std::string man_page(const std::vector<CommandRecord>& commands, const std::string& version,
                     const std::string& date) {
  std::ostringstream out;
  const auto& window = commands.front();
  out << ".TH LANDFALL 1 \"" << date << "\" \"Landfall " << version << "\" \"User Commands\"\n"
      << ".SH NAME\nlandfall \\- trainer for soloing over chord changes, played from an "
         "instrument\n"
      << ".SH SYNOPSIS\n";
  const char* between = "";
  for (const auto& command : commands)
    out << between << synopsis_of(command) << '\n', between = ".br\n";
  out << ".SH DESCRIPTION\n"
      << roff(window.about) << '\n'
      << ".PP\nWithout a command it opens the window. A first argument that is a command\\(aqs "
         "name "
         "is the command.\n.SH OPTIONS\n";
  write_options(out, window);
  out << ".SH COMMANDS\n";
  for (const auto& command : commands)
    if (!command.sub().empty()) {
      out << ".SS " << roff(command.name) << '\n' << roff(command.about) << '\n';
      write_options(out, command);
    }
  out << after_commands;
  return out.str();
}

} // namespace landfall::app
