#include "app/command.hpp"

#include <algorithm>
#include <array>
#include <ostream>

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
    Entry{"sheet", run_sheet},
};

int dispatch(const Arguments& arguments, const Streams& streams) {
  if (arguments.empty())
    return run_window(arguments, streams);
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

int run(const Arguments& arguments, const Streams& streams) {
  try {
    return dispatch(arguments, streams);
  } catch (const std::exception& error) {
    complain(streams, error.what());
    return exit_failure;
  }
}

} // namespace landfall::app
