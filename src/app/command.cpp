#include "app/command.hpp"

#include "app/command_record.hpp"
#include "app/names.hpp"

#include <algorithm>
#include <array>
#include <ostream>
#include <sstream>

namespace landfall::app {
namespace {

struct Entry {
  std::string_view name;
  int (*run)(const Arguments&, const Streams&);
};

constexpr std::array entries{
    Entry{"play", run_play},       Entry{"spell", run_spell},     Entry{"neck", run_neck},
    Entry{"changes", run_changes}, Entry{"export", run_export},   Entry{"ports", run_ports},
    Entry{"check", run_check},     Entry{"picture", run_picture}, Entry{"history", run_history},
    Entry{"review", run_review},   Entry{"import", run_import},   Entry{"phrase", run_phrase},
    Entry{"sheet", run_sheet},     Entry{"pack", run_pack},
};

/// A line each. An unknown kind is no error: another version's completions may ask.
int print_names(const Arguments& kinds, std::ostream& out) {
  for (const auto& kind : kinds)
    for (const auto& name : names_of(kind).value_or(std::vector<std::string>{}))
      out << name << '\n';
  return exit_ok;
}

CommandRecord record_of(int (*run)(const Arguments&, const Streams&)) {
  std::istringstream in;
  std::ostringstream out;
  CommandRecord record;
  run({}, {in, out, out, &record});
  return record;
}

int dispatch(const Arguments& arguments, const Streams& streams) {
  if (arguments.empty())
    return run_window(arguments, streams);
  if (arguments.front() == "--names")
    return print_names({arguments.begin() + 1, arguments.end()}, streams.out);
  const auto entry = std::find_if(entries.begin(), entries.end(), [&](const Entry& candidate) {
    return candidate.name == arguments.front();
  });
  if (entry == entries.end())
    return run_window(arguments, streams);
  return entry->run({arguments.begin() + 1, arguments.end()}, streams);
}

/// Control characters as blanks, and no endless quotes of a bad input.
std::string one_line(std::string text) {
  constexpr std::size_t longest = 600;
  if (text.size() > longest)
    text.replace(longest, std::string::npos, "...");
  std::replace_if(
      text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f; }, ' ');
  return text;
}

} // namespace

void complain(const Streams& streams, const std::string& text) {
  streams.err << "landfall: " << one_line(text) << '\n';
}

std::vector<std::string> command_names() {
  std::vector<std::string> names;
  for (const auto& entry : entries)
    names.emplace_back(entry.name);
  return names;
}

std::vector<CommandRecord> command_records() {
  std::vector<CommandRecord> records{record_of(run_window)};
  for (const auto& entry : entries)
    records.push_back(record_of(entry.run));
  return records;
}

int run(const Arguments& arguments, const Streams& streams) {
  try {
    return dispatch(arguments, streams);
  } catch (const std::exception& error) {
    complain(streams, error.what());
    return exit_failure;
  }
}

} // namespace landfall::app
