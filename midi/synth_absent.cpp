#include "midi/synth.hpp"

// Built without FluidSynth.
namespace landfall::midi {

bool has_synth() {
  return false;
}

SynthStart start_synth(const SynthSettings&, std::chrono::milliseconds) {
  return {std::make_unique<SilentOutput>(), false, "built without a synth: silent",
          [](TimePoint) { return Nanoseconds{0}; }};
}

std::string render_offline(std::span<const ScheduledMessage>, Nanoseconds, const SynthSettings&,
                           const SliceTaker&) {
  return "this program was built without a synth";
}

} // namespace landfall::midi
