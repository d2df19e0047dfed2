#include "app/band_controls.hpp"

#include "app/control_actions.hpp"
#include "song/song.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

void change_tempo(Conductor& conductor, int beats) {
  apply_value(conductor, {{}, "tempo", std::nullopt, beats});
}

void toggle(Conductor& conductor, band::Part part) {
  const auto& muted = conductor.snapshot().choice.muted;
  conductor.apply(practice::SetMuted{part, !muted[static_cast<std::size_t>(part)]});
}

void change_fullness(Conductor& conductor, double by) {
  const double now = conductor.snapshot().choice.intensity;
  conductor.apply(practice::SetIntensity{std::clamp(now + by, 0.0, 1.0)});
}

/// False for what ends the program.
bool perform(Conductor& conductor, Action action) {
  switch (action) {
  case Action::toggle_play:
  case Action::quit:
    return false;
  case Action::from_top:
    return conductor.start(), true;
  case Action::end_now:
    return conductor.apply(practice::End{}), true;
  case Action::tempo_up:
    return change_tempo(conductor, 2), true;
  case Action::tempo_down:
    return change_tempo(conductor, -2), true;
  case Action::mute_drums:
    return toggle(conductor, band::Part::drums), true;
  case Action::mute_bass:
    return toggle(conductor, band::Part::bass), true;
  case Action::mute_comping:
    return toggle(conductor, band::Part::comping), true;
  case Action::fuller:
    return change_fullness(conductor, 1.0 / 3), true;
  case Action::quieter:
    return change_fullness(conductor, -1.0 / 3), true;
  case Action::panic:
    return conductor.panic(), true;
  default:
    return true;
  }
}

} // namespace

bool BandControls::take(const midi::StampedMessage& message, const std::vector<InputInfo>& inputs) {
  const auto input = std::find_if(inputs.begin(), inputs.end(),
                                  [&](const auto& info) { return info.number == message.input; });
  return controls_.take(message, input == inputs.end() ? "" : input->name);
}

bool BandControls::act(Conductor& conductor, TimePoint now) {
  bool goes_on = true;
  while (const auto asked = controls_.next(now)) {
    if (apply_value(conductor, *asked))
      continue;
    auto action = action_named(asked->action);
    if (action && asked->steps < 0)
      action = opposite(*action);
    if (action)
      goes_on = perform(conductor, *action) && goes_on;
  }
  return goes_on;
}

} // namespace landfall::app
