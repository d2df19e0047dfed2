#include "app/setting.hpp"

#include "app/own_sets.hpp"
#include "practice/hand.hpp"

namespace landfall::app {

neck::Setting setting_of(const neck::Instrument& instrument, const practice::Choice& choice) {
  neck::Setting setting;
  setting.instrument = &instrument;
  setting.key = choice.key;
  setting.set = choice.set;
  setting.over = choice.over;
  setting.fitting = &own_sets().fitting;
  setting.home = practice::home_of(instrument, choice.key, choice.place);
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
