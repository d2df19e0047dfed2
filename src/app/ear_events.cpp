#include "app/ear_events.hpp"

namespace landfall::app {

std::optional<ear::Event> ear_event(const midi::InputEvent& event, const midi::InputSetup& setup,
                                    const TickAt& tick_at) {
  const auto at = [&](TimePoint time, int channel) {
    return tick_at(time - midi::latency_of(setup, channel));
  };
  if (const auto* note = std::get_if<midi::NoteEvent>(&event)) {
    const auto tick = at(note->time, note->channel);
    if (note->on)
      return ear::NoteOn{tick, note->channel, note->note, note->velocity, note->string};
    return ear::NoteOff{tick, note->channel, note->note};
  }
  if (const auto* bend = std::get_if<midi::BendEvent>(&event))
    return ear::Bend{at(bend->time, bend->channel), bend->channel, bend->cents};
  if (const auto* pedal = std::get_if<midi::PedalEvent>(&event))
    return ear::Pedal{at(pedal->time, pedal->channel), pedal->channel, pedal->down};
  return std::nullopt;
}

} // namespace landfall::app
