#include "practice/hand.hpp"

#include <algorithm>
#include <cstdlib>

namespace landfall::practice {
namespace {

template <typename Distance>
neck::Position nearest(const neck::Instrument& instrument, theory::Key key, Distance far) {
  const auto places = neck::all_positions(instrument, key);
  const auto found = std::min_element(
      places.begin(), places.end(), [&](const auto& a, const auto& b) { return far(a) < far(b); });
  return found == places.end() ? neck::Position{} : *found;
}

} // namespace

neck::Position home_of(const neck::Instrument& instrument, theory::Key key,
                       const neck::PlaceRequest& request) {
  if (const auto position = neck::find_position(instrument, key, request))
    return *position;
  if (const auto shape = neck::find_position(instrument, key, {request.shape, std::nullopt}))
    return *shape;
  const int low = request.position.value_or(0);
  return nearest(instrument, key,
                 [&](const neck::Position& place) { return std::abs(place.low - low); });
}

neck::PlaceRequest request_for(const neck::Position& place) {
  neck::PlaceRequest request;
  request.position = place.low;
  if (place.shape)
    request.shape = place.shape->name;
  return request;
}

neck::PlaceRequest kept_place(const neck::Instrument& instrument, const neck::Position& home,
                              theory::Key key) {
  if (home.exact)
    return {std::nullopt, home.low};
  return request_for(nearest(instrument, key, [&](const neck::Position& place) {
    const bool same = place.shape && home.shape && place.shape->name == home.shape->name;
    return 2 * std::abs(place.low - home.low) + (same ? 0 : 1);
  }));
}

neck::Setting in_key(neck::Setting setting, theory::Key key) {
  if (key == setting.key)
    return setting;
  if (setting.home.shape)
    setting.home.shape = neck::chord_shape(neck::Fretboard(*setting.instrument), setting.home,
                                           setting.key, tonic_chord(key));
  setting.key = key;
  return setting;
}

} // namespace landfall::practice
