#include "midi/synth.hpp"

namespace landfall::midi {

std::string_view latency_name(Latency latency) {
  return latency == Latency::low ? "low" : "usual";
}

std::optional<Latency> latency_of(std::string_view name) {
  for (const auto latency : {Latency::usual, Latency::low})
    if (name == latency_name(latency))
      return latency;
  return std::nullopt;
}

SynthSettings settings_for(Latency latency) {
  SynthSettings settings;
  if (latency == Latency::low) {
    settings.period_frames = 64;
    settings.periods = 3;
    settings.margin = std::chrono::microseconds{500};
  }
  return settings;
}

} // namespace landfall::midi
