#include "app/listener.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr Ticks settled = quarter * 16; ///< After the end every verdict is final.

} // namespace

std::optional<ear::Event> ear_event(const midi::InputEvent& event, Ticks at) {
  if (const auto* note = std::get_if<midi::NoteEvent>(&event)) {
    if (note->on)
      return ear::NoteOn{at, note->channel, note->note, note->velocity, note->string};
    return ear::NoteOff{at, note->channel, note->note};
  }
  if (const auto* bend = std::get_if<midi::BendEvent>(&event))
    return ear::Bend{at, bend->channel, bend->cents};
  if (const auto* pedal = std::get_if<midi::PedalEvent>(&event))
    return ear::Pedal{at, pedal->channel, pedal->down};
  return std::nullopt;
}

Nanoseconds hearing_delay(const midi::InputSetup& input) {
  constexpr std::chrono::milliseconds delivery{30};
  return input.latency.value_or(Nanoseconds{}) +
         *std::max_element(input.string_latency.begin(), input.string_latency.end()) + delivery;
}

ear::Settings ear_settings(const midi::InputSetup& input, std::optional<int> split) {
  const auto filter = midi::ghost_filter_of(input);
  ear::Settings settings;
  settings.split = split;
  settings.shortest_ms = static_cast<double>(filter.hold.count()) / 1e6;
  settings.ghost_velocity = filter.velocity_floor;
  return settings;
}

Listener::Listener(Setup setup)
    : setup_(std::move(setup)), settings_(ear_settings(setup_.input, setup_.split)),
      ground_({setup_.instrument.get(), setup_.feels.get(), setup_.fitting}), judge_(settings_) {}

void Listener::hear(const midi::InputEvent& event, Ticks at) {
  if (const auto heard = ear_event(event, at))
    tracker_.take(*heard);
}

std::size_t Listener::advance(const practice::Timeline& timeline, Ticks now) {
  ground_.extend(timeline, now);
  return judge_.advance(ground_.ground(), tracker_.notes(), now);
}

std::size_t Listener::finish(const practice::Timeline& timeline, Ticks end) {
  ground_.extend(timeline, end);
  return judge_.advance(ground_.ground(), tracker_.notes(), end + settled);
}

void Listener::forget_before(Ticks now) {
  constexpr std::size_t kept = 64; ///< More than judging and the picture of the timing look back.
  constexpr Ticks longest_turn =
      quarter * 96; ///< Of a trade: its answer is judged when it is over.
  tracker_.forget_before(now - longest_turn, kept);
}

ear::Judgement Listener::judgement(Ticks end) const {
  return ear::judge(ground_.ground(), tracker_.notes(), settings_, end + settled);
}

} // namespace landfall::app
