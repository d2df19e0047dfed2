// Any text as a file of bindings: what is read can be written, and reads back the same.

#include "midi/control_file.hpp"

#include <cstdint>
#include <cstdlib>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

/// Every name is an action, so that what lies behind it is reached.
std::vector<midi::ControlAction> actions_in(std::string_view text) {
  std::vector<midi::ControlAction> actions{{"start-stop", true, false, false},
                                           {"tempo", false, true, true}};
  for (std::size_t at = text.find(": "); at != std::string_view::npos && actions.size() < 99;
       at = text.find(": ", at + 1)) {
    const auto name = text.substr(at + 2);
    actions.push_back(
        {std::string(name.substr(0, name.find_first_of(" \t\r\n"))), true, true, true});
  }
  return actions;
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  const auto actions = actions_in(text);
  const auto map = midi::parse_controls(text, actions);
  if (!map) {
    require(map.error().line > 0 && map.error().column > 0 && !map.error().reason.empty());
    return 0;
  }
  const auto again = midi::parse_controls(midi::controls_text(*map), actions);
  require(static_cast<bool>(again));
  require(again->times == map->times && again->bindings.size() == map->bindings.size());
  return 0;
}
