#include "app/part_routes.hpp"

#include "app/chunks.hpp"
#include "midi/message.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

/// The voice whose channel it is; the spare channels are the player's.
Voice voice_on(int channel) {
  for (const auto voice : all_voices)
    if (channel_of(voice) == channel)
      return voice;
  return Voice::lead;
}

bool is_open(const std::string& port, const std::vector<std::string>& open) {
  return std::find(open.begin(), open.end(), port) != open.end();
}

} // namespace

int channel_of(Voice voice) {
  switch (voice) {
  case Voice::drums:
    return channel_of(band::Part::drums);
  case Voice::bass:
    return channel_of(band::Part::bass);
  case Voice::comping:
    return channel_of(band::Part::comping);
  case Voice::lead:
    return lead_channel;
  case Voice::teacher:
    return teacher_channel;
  case Voice::call:
    break;
  }
  return call_channel;
}

std::vector<std::string> named_ports(const VoiceRoutes& routes) {
  std::vector<std::string> ports;
  for (const auto& [voice, route] : routes)
    if (!route.port.empty() && !is_open(route.port, ports))
      ports.push_back(route.port);
  return ports;
}

midi::Routing routing_for(const std::string& port, const VoiceRoutes& routes,
                          const std::vector<std::string>& open) {
  auto routing = midi::straight_routing();
  for (int channel = 0; channel < midi::channel_count; ++channel) {
    auto& to = routing.routes[static_cast<std::size_t>(channel)];
    const auto voice = voice_on(channel);
    const auto found = routes.find(voice);
    const auto route = found == routes.end() ? VoiceRoute{} : found->second;
    const auto goes_to = is_open(route.port, open) ? route.port : "";
    to.sends = goes_to == port;
    if (channel == channel_of(voice))
      to.channel = static_cast<std::int8_t>(route.channel.value_or(channel));
    to.transpose = static_cast<std::int8_t>(route.transpose);
    to.bank = static_cast<std::int16_t>(route.bank.value_or(-1));
    to.program = static_cast<std::int16_t>(route.program.value_or(midi::Route::as_planned));
  }
  return routing;
}

} // namespace landfall::app
