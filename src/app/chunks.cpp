#include "app/chunks.hpp"

#include "midi/message.hpp"

#include <algorithm>

namespace landfall::app {

int channel_of(band::Part part) {
  switch (part) {
  case band::Part::comping:
    return 0;
  case band::Part::bass:
    return 1;
  case band::Part::drums:
  case band::Part::click:
    break;
  }
  return midi::drum_channel;
}

std::uint16_t muted_channels(const practice::Choice& choice) {
  unsigned channels = 0;
  for (const auto part : band::all_parts)
    if (channel_of(part) != midi::drum_channel && choice.muted[static_cast<std::size_t>(part)])
      channels |= 1U << static_cast<unsigned>(channel_of(part));
  return static_cast<std::uint16_t>(channels);
}

midi::Chunk chunk_of(const practice::Plan& plan, const band::Feel& feel) {
  midi::Chunk chunk{plan.from, plan.to, {}};
  chunk.messages.reserve(plan.events.size() + 3);
  for (const auto& event : plan.events)
    chunk.messages.push_back(
        {event.at, event.length,
         midi::note_on(channel_of(event.part), event.note.number, event.velocity)});
  const auto first =
      chunk.messages.empty() ? plan.from : std::min(plan.from, chunk.messages.front().at);
  const auto sounds = {
      midi::program(channel_of(band::Part::comping),
                    plan.drone ? drone_program : feel.sounds.comping),
      midi::program(channel_of(band::Part::bass), plan.drone ? drone_program : feel.sounds.bass),
      midi::program(channel_of(band::Part::drums), feel.sounds.kit),
  };
  std::vector<midi::PlannedMessage> programs;
  for (const auto& message : sounds)
    programs.push_back({first, {}, message});
  chunk.messages.insert(chunk.messages.begin(), programs.begin(), programs.end());
  return chunk;
}

midi::Chunk rest_of(midi::Chunk chunk, Ticks from) {
  std::erase_if(chunk.messages,
                [&](const auto& each) { return each.at < from && each.length > Ticks{}; });
  for (auto& each : chunk.messages)
    each.at = std::max(each.at, from);
  chunk.from = std::max(chunk.from, from);
  return chunk;
}

} // namespace landfall::app
