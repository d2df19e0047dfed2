#pragma once

#include <RtMidi.h>

#include <memory>
#include <string>
#include <string_view>
#include <vector>

/// Our ways around RtMidi 5.0. Nothing throws; everything is for the device worker.
namespace landfall::midi {

/// The name under which our ports stand in the system.
inline constexpr const char* client_name = "Landfall";

/// The systems that RtMidi was built for: ALSA before JACK, whose messages wait for its next
/// period.
std::vector<RtMidi::Api> built_in_apis();

/// Whether a system is there now. Asks JACK anew.
bool answers(RtMidi::Api api);

/// Those that are there now.
std::vector<RtMidi::Api> usable_apis();

/// Whether a port of this full name belongs to this program.
bool is_own_port(std::string_view name);

/// RtMidi reports failures of an open port through this: they are counted, not printed.
void count_failure(RtMidiError::Type type, const std::string& text, void* counter);

/// RtMidiIn or RtMidiOut on this system, or null.
template <typename Device> std::unique_ptr<Device> make_device(RtMidi::Api api) noexcept {
  try {
    return std::make_unique<Device>(api, client_name);
  } catch (...) {
    return nullptr;
  }
}

/// The names as the system has them now.
template <typename Device> std::vector<std::string> port_names(Device& device) {
  std::vector<std::string> names;
  try {
    for (unsigned i = 0, count = device.getPortCount(); i < count; ++i)
      names.push_back(device.getPortName(i));
  } catch (...) {
    names.clear(); // it went away while we asked
  }
  return names;
}

template <typename Device> std::vector<std::string> port_names(RtMidi::Api api) {
  const auto device = make_device<Device>(api);
  return device ? port_names(*device) : std::vector<std::string>{};
}

} // namespace landfall::midi
