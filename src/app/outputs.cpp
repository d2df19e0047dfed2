#include "app/outputs.hpp"

#include "midi/rtmidi_ports.hpp"

namespace landfall::app {
namespace {

OpenedOutput open_synth(const std::string& because, midi::Latency latency) {
  auto start = midi::start_synth(midi::settings_for(latency));
  OpenedOutput opened;
  opened.output = std::move(start.output);
  opened.words = start.sounding ? "built-in synth out" : "no sound";
  opened.notice = because;
  if (!start.sounding)
    opened.notice += (because.empty() ? "" : "; ") + start.status;
  else
    opened.idle_for = start.idle_for, opened.xruns = start.xruns, opened.driver = start.driver;
  opened.silent = !start.sounding;
  return opened;
}

OpenedOutput from_port(std::unique_ptr<midi::RtMidiOutput> port, bool is_virtual) {
  OpenedOutput opened;
  opened.api = port->port().api;
  opened.port = is_virtual ? "" : port->port().name;
  opened.words = (is_virtual ? "our port" : opened.port) + " out";
  opened.output = std::move(port);
  return opened;
}

} // namespace

bool is_own_output(const std::string& wish) {
  return wish.empty() || wish == "synth" || wish == "none" || wish == "virtual";
}

OpenedOutput open_output(const std::string& wish, midi::Latency latency) {
  if (wish == "none") {
    OpenedOutput opened;
    opened.output = std::make_unique<midi::SilentOutput>();
    opened.words = "no output";
    return opened;
  }
  if (wish == "virtual") {
    if (auto port = midi::RtMidiOutput::open_virtual("out"))
      return from_port(std::move(port), true);
    return open_synth("this system has no virtual ports", latency);
  }
  if (is_own_output(wish))
    return open_synth("", latency);
  if (auto port = midi::RtMidiOutput::open(wish))
    return from_port(std::move(port), false);
  auto opened =
      open_synth("waiting for '" + wish + "'; until then the built-in synth plays", latency);
  opened.instead = true;
  return opened;
}

std::string short_name(const std::string& port) {
  constexpr std::size_t most = 28;
  return port.size() <= most ? port : port.substr(0, most - 3) + "...";
}

} // namespace landfall::app
