#include "midi/rtmidi_api.hpp"

#include "midi/sound_servers.hpp"

#include <algorithm>
#include <atomic>
#include <cstdint>

namespace landfall::midi {

bool answers(RtMidi::Api api) {
  switch (api) {
  case RtMidi::LINUX_ALSA:
    return has_alsa_sequencer();
  case RtMidi::UNIX_JACK:
    return probe_jack() == ServerState::present;
  case RtMidi::RTMIDI_DUMMY:
  case RtMidi::UNSPECIFIED:
    return false;
  default:
    return true;
  }
}

std::vector<RtMidi::Api> built_in_apis() {
  std::vector<RtMidi::Api> apis;
  RtMidi::getCompiledApi(apis);
  std::stable_partition(apis.begin(), apis.end(),
                        [](RtMidi::Api api) { return api != RtMidi::UNIX_JACK; });
  return apis;
}

std::vector<RtMidi::Api> usable_apis() {
  auto apis = built_in_apis();
  std::erase_if(apis, [](RtMidi::Api api) { return !answers(api); });
  return apis;
}

bool is_own_port(std::string_view name) {
  const std::string_view own = client_name;
  return name.substr(0, own.size()) == own;
}

void count_failure(RtMidiError::Type, const std::string&, void* counter) {
  static_cast<std::atomic<std::uint64_t>*>(counter)->fetch_add(1, std::memory_order_relaxed);
}

} // namespace landfall::midi
