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

} // namespace landfall::app
