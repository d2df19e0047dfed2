#include "midi/synth_engine.hpp"

#include <algorithm>
#include <functional>

namespace landfall::midi {

std::string render_offline(std::span<const ScheduledMessage> messages, Nanoseconds length,
                           const SynthSettings& settings, const SliceTaker& take) {
  std::string error;
  const auto engine = SynthEngine::make(make_settings(settings), settings, error);
  if (!engine)
    return error;
  constexpr auto slice = SynthEngine::slice_frames;
  const auto frame_at = [rate = settings.sample_rate](Nanoseconds at) {
    return static_cast<std::int64_t>(static_cast<double>(at.count()) * rate / 1e9);
  };
  auto due = [&, next = messages.begin()](std::int64_t frame) mutable {
    for (; next != messages.end() &&
           frame_at(next->at) < frame + static_cast<std::int64_t>(slice / 2);
         ++next)
      engine->apply(next->message);
  };
  std::array<float, slice> left{};
  std::array<float, slice> right{};
  auto rest = static_cast<std::size_t>(std::max<std::int64_t>(frame_at(length), 0));
  while (rest > 0) {
    const auto frames = std::min(rest, slice);
    engine->render(left.data(), right.data(), frames, std::ref(due));
    if (!take({left.data(), frames}, {right.data(), frames}))
      return "stopped";
    rest -= frames;
  }
  return {};
}

} // namespace landfall::midi
