#include "app/command_line.hpp"
#include "app/control_actions.hpp"
#include "app/input_page.hpp"
#include "app/neck_json.hpp"
#include "app/settings.hpp"
#include "midi/ports.hpp"
#include "midi/sound_servers.hpp"

#include <algorithm>
#include <ostream>

namespace landfall::app {
namespace {

Json json_of(const midi::PortInfo& port) {
  return {{"name", port.name}, {"api", port.api}, {"open", false}};
}

/// Inputs with what is remembered of each: how it is read, its channels and latency.
Json inputs_json(const std::vector<midi::PortInfo>& ports, const InputSetups& setups) {
  auto list = Json::array();
  for (const auto& port : ports) {
    list.push_back(json_of(port));
    list.back().update(app::json_of(setup_of(setups, port.name)));
  }
  return list;
}

Json outputs_json(const std::vector<midi::PortInfo>& ports) {
  auto list = Json::array();
  for (const auto& port : ports)
    list.push_back(json_of(port));
  return list;
}

void print(std::ostream& out, const char* title, const std::vector<midi::PortInfo>& ports,
           const InputSetups* setups, const std::string& remembered) {
  out << title << '\n';
  if (ports.empty())
    out << "  none\n";
  for (const auto& port : ports) {
    out << "  " << port.name << " (" << port.api << ")";
    if (setups != nullptr)
      out << ", " << mode_words(setup_of(*setups, port.name));
    out << '\n';
  }
  out << "  remembered: " << remembered << '\n';
}

void print_actions(std::ostream& out) {
  for (const auto& action : control_actions()) {
    const auto width = std::max(action.name.size(), std::size_t{18});
    auto name = action.name;
    name.resize(width, ' ');
    out << name << "  " << control_help(action.name)
        << (action.value ? " (knobs, pedals, wheels)" : "") << '\n';
  }
}

} // namespace

int run_ports(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Lists MIDI inputs and outputs, and what is remembered.", "landfall ports"};
  bool json = false, actions = false;
  app.flag("--json", json, "One JSON document");
  app.flag("--actions", actions, "List what controls can be bound to, by the names in files");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  if (actions)
    return print_actions(streams.out), exit_ok;
  midi::quieten_sound_libraries();
  const auto ports = midi::list_ports();
  midi::leave_jack();
  std::string problem;
  const auto settings = load_settings(settings_file(), problem);
  if (!problem.empty())
    complain(streams, problem);
  if (json) {
    streams.out << Json{{"inputs", inputs_json(ports.inputs, settings.inputs)},
                        {"outputs", outputs_json(ports.outputs)}}
                << '\n';
    return exit_ok;
  }
  print(streams.out, "Inputs", ports.inputs, &settings.inputs,
        settings.in.empty() ? "the first there is" : settings.in);
  print(streams.out, "Outputs", ports.outputs, nullptr, settings.out);
  if (ports.inputs.empty() && ports.outputs.empty())
    streams.out << "There are no MIDI ports; the built-in synth, the computer's keys and the mouse "
                   "work without.\n";
  return exit_ok;
}

} // namespace landfall::app
