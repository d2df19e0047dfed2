#include "midi/rtmidi_ports.hpp"

#include "midi/rtmidi_api.hpp"

#include <optional>
#include <thread>

namespace landfall::midi {
namespace {

/// Two periods of a slow sound server: JACK sends what it was given at its next one.
constexpr std::chrono::milliseconds time_to_drain{50};
/// For which a busy machine may hold up a thread of JACK's.
constexpr std::chrono::milliseconds longest_callback{100};

PortInfo info(RtMidi::Api api, std::string_view name) {
  return {without_alsa_numbers(name), RtMidi::getApiName(api)};
}

// RtMidi's JACK input passes nothing on between the begin of a system exclusive message and its
// end, even where that never comes. What it remembers of it has no public way in.
struct DeviceOf : RtMidiIn {
  static MidiInApi& api(RtMidiIn& device) {
    return static_cast<MidiInApi&>(*(device.*(&DeviceOf::rtapi_)));
  }
};
struct ApiOf : MidiInApi {
  static bool& in_exclusive(MidiInApi& api) { return (api.*(&ApiOf::inputData_)).continueSysex; }
};

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

/// RtMidi 5 frees its buffer before it closes its JACK client: a callback that had begun when the
/// port was closed, and is held up, must have ended by then.
RtMidiOutput::~RtMidiOutput() {
  std::this_thread::sleep_for(time_to_drain);
  device_->closePort();
  std::this_thread::sleep_for(longest_callback);
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
  device_->ignoreTypes(true, false, false);
  device_->setCallback(&RtMidiInput::receive, this);
}

RtMidiInput::~RtMidiInput() {
  device_.reset(); // ends the callbacks before the queue goes
}

bool RtMidiInput::end_broken_exclusive(TimePoint now) noexcept {
  const std::atomic_ref<bool> in_exclusive(ApiOf::in_exclusive(DeviceOf::api(*device_)));
  if (!in_exclusive.load(std::memory_order_relaxed))
    return exclusive_since_.reset(), false;
  if (!exclusive_since_)
    exclusive_since_ = now;
  if (now - *exclusive_since_ < exclusive_limit)
    return false;
  in_exclusive.store(false, std::memory_order_relaxed);
  return exclusive_since_.reset(), true;
}

void RtMidiInput::receive(double, std::vector<unsigned char>* bytes, void* self) {
  static_cast<RtMidiInput*>(self)->intake_.take(*bytes, Clock::now());
}

} // namespace landfall::midi
