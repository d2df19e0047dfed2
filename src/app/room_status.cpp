#include "app/hint_keys.hpp"
#include "app/room.hpp"
#include "app/status_lists.hpp"
#include "app/words.hpp"

#include <charconv>
#include <cmath>

namespace landfall::app {
namespace {

int number_in(std::string_view text) {
  int number = 0;
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

} // namespace

std::string Room::feel_now() const {
  const auto feel = choice().feel;
  return feel.empty() ? snapshot_.song->feel : feel;
}

/// What a word of the status line opens.
void Room::click_on_status(render::StatusPart part) {
  using enum render::StatusPart;
  if (is_of_replay(Action::songs)) // a take that is open stays as it was played
    return;
  switch (part) {
  case title:
    return perform(Action::songs);
  case key:
    return show_list(key_list(choice().key));
  case place:
    return perform(Action::places);
  case set:
    return perform(trading_ ? Action::answer_kind : Action::sets);
  case running:
    return perform(Action::toggle_play);
  case tempo:
    return show_list(
        tempo_list(std::lround(beats_per_minute(choice().tempo, snapshot_.song->meter))));
  case feel:
    return show_list(feel_list(feels_->names(), feel_now()));
  case ports:
    return perform(Action::ports);
  case chorus:
    return;
  }
}

void Room::click_on_hint(const render::HitHint& hint) {
  if (const auto key = key_of_hint(hint.hint, hint.at))
    press(*key);
}

/// False for a value that is none of the status line's lists.
bool Room::choose_in_status(const std::string& value) {
  const auto rest = value.substr(std::min(value.find(':'), value.size() - 1) + 1);
  if (value.starts_with("key:"))
    move_key(number_in(rest));
  else if (value.starts_with("tempo:"))
    change_tempo(number_in(rest) - beats_per_minute(choice().tempo, snapshot_.song->meter));
  else if (value.starts_with("feel:"))
    use_feel(rest);
  else
    return false;
  return close_list(), true;
}

} // namespace landfall::app
