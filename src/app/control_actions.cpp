#include "app/control_actions.hpp"

#include "song/song.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace landfall::app {
namespace {

constexpr std::array values{
    ValueRow{"tempo", "tempo, 40 to 240"},
    ValueRow{"fullness", "how full the band plays"},
    ValueRow{"drums-level", "level of the drums"},
    ValueRow{"bass-level", "level of the bass"},
    ValueRow{"comping-level", "level of the comping"},
    ValueRow{"click-level", "level of the click"},
};

constexpr std::array opposites{
    std::pair{Action::tempo_up, Action::tempo_down},
    std::pair{Action::place_up, Action::place_down},
    std::pair{Action::fret_up, Action::fret_down},
    std::pair{Action::key_up, Action::key_down},
    std::pair{Action::set_next, Action::set_previous},
    std::pair{Action::feel_next, Action::feel_previous},
    std::pair{Action::chord_on, Action::chord_back},
    std::pair{Action::beat_on, Action::beat_back},
    std::pair{Action::next_scene, Action::previous_scene},
    std::pair{Action::fuller, Action::quieter},
    std::pair{Action::text_larger, Action::text_smaller},
};

constexpr std::array levels{
    std::pair{std::string_view("drums-level"), band::Part::drums},
    std::pair{std::string_view("bass-level"), band::Part::bass},
    std::pair{std::string_view("comping-level"), band::Part::comping},
    std::pair{std::string_view("click-level"), band::Part::click},
};

constexpr double slowest = 40, fastest = 240;

/// From where it stands, or by as many steps from `now`.
double wanted(const midi::Asked& asked, double now, double least, double most, double step) {
  const double value =
      asked.value ? least + *asked.value * (most - least) : now + asked.steps * step;
  return std::clamp(value, least, most);
}

std::string set_tempo(Conductor& conductor, const midi::Asked& asked) {
  const auto snapshot = conductor.snapshot();
  const auto meter = snapshot.song->meter;
  const double now = song::beats_per_minute(snapshot.choice.tempo, meter);
  const double beats = std::round(wanted(asked, now, slowest, fastest, 1));
  conductor.apply(practice::SetTempo{song::tempo_from_beats(beats, meter)});
  return std::to_string(std::lround(beats)) + " bpm";
}

std::string set_fullness(Conductor& conductor, const midi::Asked& asked) {
  const double now = conductor.snapshot().choice.intensity;
  const double full = wanted(asked, now, 0, 1, 0.05);
  conductor.apply(practice::SetIntensity{full});
  return full < 1.0 / 3   ? "the band plays quietly"
         : full < 2.0 / 3 ? "the band plays at medium"
                          : "the band plays full";
}

std::string set_level(Conductor& conductor, band::Part part, const midi::Asked& asked) {
  auto arrangement = conductor.snapshot().choice.arrangement;
  auto& level = arrangement.level[static_cast<std::size_t>(part)];
  const auto& steps = practice::level_steps;
  level = static_cast<int>(std::lround(wanted(asked, level, steps.front(), steps.back(), 5)));
  conductor.apply(practice::SetArrangement{arrangement});
  return std::string(control_help(asked.action)) + ": " + std::to_string(level) + " %";
}

} // namespace

std::span<const ValueRow> value_table() {
  return values;
}

std::vector<midi::ControlAction> control_actions() {
  std::vector<midi::ControlAction> all;
  for (const auto& row : values)
    all.push_back({std::string(row.name), false, true, true});
  for (const auto& row : action_table())
    all.push_back({std::string(row.name), true, false, opposite(row.action).has_value()});
  return all;
}

std::string_view control_help(std::string_view name) {
  for (const auto& row : values)
    if (row.name == name)
      return row.help;
  for (const auto& row : action_table())
    if (row.name == name)
      return row.help;
  return "";
}

std::optional<Action> action_named(std::string_view name) {
  for (const auto& row : action_table())
    if (row.name == name)
      return row.action;
  return std::nullopt;
}

std::optional<Action> opposite(Action action) {
  for (const auto& [one, other] : opposites)
    if (action == one || action == other)
      return action == one ? other : one;
  return std::nullopt;
}

std::optional<std::string> apply_value(Conductor& conductor, const midi::Asked& asked) {
  if (asked.action == "tempo")
    return set_tempo(conductor, asked);
  if (asked.action == "fullness")
    return set_fullness(conductor, asked);
  for (const auto& [name, part] : levels)
    if (asked.action == name)
      return set_level(conductor, part, asked);
  return std::nullopt;
}

} // namespace landfall::app
