#include "midi/rtmidi_ports.hpp"

#include "midi/rtmidi_api.hpp"

#include <optional>
#include <thread>

namespace landfall::midi {
namespace {

/// Two periods of a slow sound server: JACK sends what it was given at its next one.
constexpr std::chrono::milliseconds time_to_drain{50};

PortInfo info(RtMidi::Api api, std::string_view name) {
  return {without_alsa_numbers(name), RtMidi::getApiName(api)};
}

/// Lists and opens with the same object, so that hardly any time is left in between for ports to
/// come and go.
template <typename Device>
std::optional<PortInfo> open_port(Device& device, RtMidi::Api api, std::string_view wanted) {
  const auto full = port_names(device);
  std::vector<std::string> names;
  for (const auto& name : full)
    names.push_back(is_own_port(name) ? std::string() : without_alsa_numbers(name));
  const int index = find_port(names, wanted);
  if (index < 0)
    return std::nullopt;
  device.openPort(static_cast<unsigned>(index), client_name);
  if (!device.isPortOpen())
    return std::nullopt;
  return info(api, full[static_cast<std::size_t>(index)]);
}

} // namespace

template <typename Port, typename Open> std::unique_ptr<Port> open_first(Open open) noexcept {
  try {
    for (const auto api : usable_apis()) {
      auto device = make_device<typename Port::Device>(api);
      if (!device)
        continue;
      std::unique_ptr<Port> port(new Port(std::move(device)));
      if (auto found = open(*port->device_, api); found && port->failures_ == 0) {
        port->port_ = *std::move(found);
        return port;
      }
    }
  } catch (...) {
    // the port went away while it was opened
  }
  return nullptr;
}

template <typename Port> std::unique_ptr<Port> open_named(std::string_view name) noexcept {
  return open_first<Port>([name](auto& device, auto api) { return open_port(device, api, name); });
}

template <typename Port> std::unique_ptr<Port> open_own(const std::string& name) noexcept {
  return open_first<Port>([&name](auto& device, auto api) {
    device.openVirtualPort(name);
    return std::optional(info(api, name));
  });
}

std::unique_ptr<RtMidiOutput> RtMidiOutput::open(std::string_view name) noexcept {
  return open_named<RtMidiOutput>(name);
}

std::unique_ptr<RtMidiOutput> RtMidiOutput::open_virtual(const std::string& name) noexcept {
  return open_own<RtMidiOutput>(name);
}

RtMidiOutput::RtMidiOutput(std::unique_ptr<RtMidiOut> device) : device_(std::move(device)) {
  device_->setErrorCallback(count_failure, &failures_);
}

RtMidiOutput::~RtMidiOutput() {
  std::this_thread::sleep_for(time_to_drain);
}

void RtMidiOutput::send(std::span<const std::uint8_t> bytes, TimePoint) noexcept {
  try {
    device_->sendMessage(bytes.data(), bytes.size());
  } catch (...) {
    ++failures_;
  }
}

std::unique_ptr<RtMidiInput> RtMidiInput::open(std::string_view name) noexcept {
  return open_named<RtMidiInput>(name);
}

std::unique_ptr<RtMidiInput> RtMidiInput::open_virtual(const std::string& name) noexcept {
  return open_own<RtMidiInput>(name);
}

RtMidiInput::RtMidiInput(std::unique_ptr<RtMidiIn> device) : device_(std::move(device)) {
  device_->setErrorCallback(count_failure, &failures_);
  device_->ignoreTypes(true, false, true);
  device_->setCallback(&RtMidiInput::receive, this);
}

RtMidiInput::~RtMidiInput() {
  device_.reset(); // ends the callbacks before the queue goes
}

void RtMidiInput::receive(double, std::vector<unsigned char>* bytes, void* self) {
  static_cast<RtMidiInput*>(self)->intake_.take(*bytes, Clock::now());
}

} // namespace landfall::midi
