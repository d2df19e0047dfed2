#include "app/places_page.hpp"

#include "app/board_moment.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::size_t most_panels = 6;

render::PlacePanel panel_of(const FrameInput& input, double tick, const neck::Position& place,
                            bool present) {
  const auto moment = board_moment(input, tick, place);
  render::PlacePanel panel;
  auto shown = moment.setting;
  shown.home = place;
  panel.title = place_words(shown);
  panel.chord = chord_text(moment.chords.chord);
  if (moment.view.chord_shape)
    panel.shape = std::string(1, moment.view.chord_shape->name) + " shape";
  panel.neck = neck_of(input, moment, false);
  panel.neck.first_fret = std::max(0, place.low - 1);
  panel.neck.last_fret = place.low == 0 ? place.high : place.high + 1;
  panel.present = present;
  return panel;
}

} // namespace

std::vector<neck::Position> places_of(const neck::Instrument& instrument, theory::Key key) {
  std::vector<neck::Position> places;
  for (const auto& place : neck::all_positions(instrument, key)) {
    const bool known = std::any_of(places.begin(), places.end(), [&](const auto& other) {
      return place.shape && other.shape && place.shape->name == other.shape->name;
    });
    if (!known)
      places.push_back(place);
  }
  return places;
}

render::PlacesPage build_places(const FrameInput& input) {
  const double tick = shown_tick(input.snapshot, input.now);
  const auto chosen = setting_at(input, tick);
  render::PlacesPage page;
  page.title = key_words(chosen.key) + " in every place";
  page.subtitle = "the same chord under every hand";
  for (const auto& place : places_of(*input.instrument, chosen.key)) {
    if (page.panels.size() == most_panels)
      break;
    const bool same_shape = place.shape && chosen.home.shape
                                ? place.shape->name == chosen.home.shape->name
                                : place.low == chosen.home.low;
    page.panels.push_back(panel_of(input, tick, place, same_shape));
  }
  return page;
}

std::optional<neck::Position> place_of_panel(const FrameInput& input, int index) {
  const auto chosen = setting_at(input, shown_tick(input.snapshot, input.now));
  const auto places = places_of(*input.instrument, chosen.key);
  if (index < 0 || static_cast<std::size_t>(index) >= places.size())
    return std::nullopt;
  return places[static_cast<std::size_t>(index)];
}

} // namespace landfall::app
