#include "app/setting.hpp"

#include "app/own_sets.hpp"

#include <cstdlib>

namespace landfall::app {
namespace {

neck::Position nearest(const neck::Instrument& instrument, theory::Key key, int low) {
  neck::Position best;
  int least = 1000;
  for (const auto& position : neck::all_positions(instrument, key))
    if (const int distance = std::abs(position.low - low); distance < least) {
      least = distance;
      best = position;
    }
  return best;
}

} // namespace

neck::Setting setting_of(const neck::Instrument& instrument, const practice::Choice& choice) {
  neck::Setting setting;
  setting.instrument = &instrument;
  setting.key = choice.key;
  setting.set = choice.set;
  setting.over = choice.over;
  setting.fitting = &own_sets().fitting;
  if (const auto position = neck::find_position(instrument, choice.key, choice.place))
    setting.home = *position;
  else if (const auto shape =
               neck::find_position(instrument, choice.key, {choice.place.shape, std::nullopt}))
    setting.home = *shape;
  else
    setting.home = nearest(instrument, choice.key, choice.place.position.value_or(0));
  return setting;
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

} // namespace landfall::app
