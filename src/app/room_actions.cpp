#include "app/own_sets.hpp"
#include "app/room.hpp"
#include "app/setting.hpp"
#include "app/words.hpp"
#include "practice/hand.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iostream>

namespace landfall::app {
namespace {

/// The sets that the player goes through by one key; every other by name.
constexpr std::array common_sets{"fitting", "arpeggio",    "major pentatonic", "minor pentatonic",
                                 "blues",   "major blues", "composite",        "major",
                                 "dorian",  "mixolydian",  "natural minor",    "harmonic minor"};

std::size_t stepped(std::size_t index, int steps, std::size_t count) {
  const auto wide = static_cast<std::ptrdiff_t>(count);
  return static_cast<std::size_t>(((static_cast<std::ptrdiff_t>(index) + steps) % wide + wide) %
                                  wide);
}

template <typename List, typename Value>
std::size_t index_in(const List& list, const Value& value) {
  const auto found = std::find(list.begin(), list.end(), value);
  return found == list.end() ? 0 : static_cast<std::size_t>(found - list.begin());
}

/// The place so many steps up the neck from the one at hand, or from between two.
std::size_t place_from(const std::vector<neck::Position>& places, const neck::Position& home,
                       int steps) {
  const auto exact = std::find_if(places.begin(), places.end(), [&](const auto& place) {
    return place.low == home.low && place.shape == home.shape;
  });
  const auto above = std::find_if(places.begin(), places.end(),
                                  [&](const auto& place) { return place.low > home.low; });
  auto at = exact != places.end() ? exact - places.begin() + steps : above - places.begin();
  if (exact == places.end() && steps < 0)
    --at;
  return static_cast<std::size_t>(
      std::clamp<std::ptrdiff_t>(at, 0, static_cast<std::ptrdiff_t>(places.size()) - 1));
}

} // namespace

void Room::perform(Action action) {
  changed_ = true;
  is_of_replay(action) || perform_takes(action) || perform_playing(action) ||
      perform_place(action) || perform_notes(action) || perform_band(action) ||
      perform_trade(action) || perform_lesson(action) || perform_stage(action) ||
      perform_phrases(action) || perform_ear(action) || perform_history(action) ||
      perform_songs(action) || perform_view(action) || perform_look(action) ||
      perform_rig(action) || perform_window(action);
}

bool Room::perform_playing(Action action) {
  switch (action) {
  case Action::toggle_play:
    return toggle_play(), true;
  case Action::from_top:
    return held_.reset(), hands_.forget_played(), conductor_.start(), true;
  case Action::end_now:
    return end_now(), true;
  case Action::tap_tempo:
    return tap_tempo(), true;
  case Action::tempo_up:
    return change_tempo(2.0), true;
  case Action::tempo_down:
    return change_tempo(-2.0), true;
  case Action::loop_from:
    return loop_edge(true), true;
  case Action::loop_to:
    return loop_edge(false), true;
  case Action::loop_section:
    return loop_section(), true;
  default:
    return false;
  }
}

bool Room::perform_place(Action action) {
  switch (action) {
  case Action::place_up:
    return move_place(1), true;
  case Action::place_down:
    return move_place(-1), true;
  case Action::fret_up:
    return move_fret(1), true;
  case Action::fret_down:
    return move_fret(-1), true;
  case Action::key_up:
    return move_key(1), true;
  case Action::key_down:
    return move_key(-1), true;
  case Action::key_fourth:
    return move_key(5), true;
  default:
    return false;
  }
}

bool Room::perform_notes(Action action) {
  switch (action) {
  case Action::set_next:
    return next_set(1), true;
  case Action::set_previous:
    return next_set(-1), true;
  case Action::sets:
    return show_list(set_list(choice().set.name)), true;
  case Action::target_next:
    return next_target(), true;
  case Action::over_toggle: {
    const auto now = choice();
    const auto over = now.over == theory::Over::key ? theory::Over::chord : theory::Over::key;
    conductor_.apply(practice::SetNotes{now.set, over});
    return say(over == theory::Over::key ? "over the key" : "over the chord"), true;
  }
  default:
    return false;
  }
}

bool Room::perform_band(Action action) {
  const auto intensity = [&](double by) {
    const double now = std::clamp(choice().intensity + by, 0.0, 1.0);
    conductor_.apply(practice::SetIntensity{now});
    say(now < 1.0 / 3 ? "the band plays quietly"
                      : (now < 2.0 / 3 ? "the band plays at medium" : "the band plays full"));
  };
  switch (action) {
  case Action::mute_drums:
    return mute(band::Part::drums, "drums"), true;
  case Action::mute_bass:
    return mute(band::Part::bass, "bass"), true;
  case Action::mute_comping:
    return mute(band::Part::comping, "comping"), true;
  case Action::fuller:
    return intensity(1.0 / 3), true;
  case Action::quieter:
    return intensity(-1.0 / 3), true;
  case Action::click_next:
    return next_click(), true;
  case Action::band_page:
    return show_band(), true;
  case Action::feel_next:
    return next_feel(1), true;
  case Action::feel_previous:
    return next_feel(-1), true;
  default:
    return false;
  }
}

bool Room::perform_view(Action action) {
  auto& look = settings_.look;
  const auto flip = [&](bool& value, const char* name) {
    value = !value;
    say(std::string(name) + (value ? " on" : " off"));
    return true;
  };
  switch (action) {
  case Action::landing_notes:
    return flip(look.landing, "landing notes");
  case Action::set_notes:
    return flip(look.set_notes, "other notes of the set");
  case Action::chord_tones:
    return flip(look.chord_tones, "all chord tones");
  case Action::grip:
    return look.grip_number = 0, flip(look.grip, "grip");
  case Action::grip_next:
    return next_grip(), true;
  case Action::groups:
    return next_groups(), true;
  case Action::places:
    return show_places(), true;
  case Action::labels:
    look.labels = static_cast<neck::LabelKind>((static_cast<int>(look.labels) + 1) % label_kinds);
    return true;
  default:
    return false;
  }
}

bool Room::perform_look(Action action) {
  auto& look = settings_.look;
  const auto flip = [](bool& value) { return value = !value, true; };
  switch (action) {
  case Action::board:
    return flip(look.whole_board);
  case Action::left_handed:
    return flip(look.left_handed);
  case Action::seen_by_player:
    return flip(look.seen_by_player);
  case Action::true_spacing:
    return flip(look.true_spacing);
  case Action::instrument:
    return show_list(instrument_list(settings_.instrument.name)), true;
  case Action::theme:
    look.theme = look.theme == render::Theme::stage ? render::Theme::paper : render::Theme::stage;
    return true;
  case Action::text_larger:
    return look.text_scale = std::min(look.text_scale + 0.125, 2.0), true;
  case Action::text_smaller:
    return look.text_scale = std::max(look.text_scale - 0.125, 0.75), true;
  default:
    return false;
  }
}

bool Room::perform_window(Action action) {
  switch (action) {
  case Action::play_on_keys:
    typing_notes_ = !typing_notes_;
    return say(typing_notes_ ? "the computer's keys play notes" : "keys are commands again"), true;
  case Action::ports:
    return show_list(ports_page()), true;
  case Action::settings:
    return show_settings(), true;
  case Action::full_screen:
    return window_->set_full_screen(!window_->full_screen()), true;
  case Action::help:
    return show_help(), true;
  case Action::panic:
    return conductor_.panic(), hands_.release_all(Clock::now(), tick_now(Clock::now())), true;
  case Action::back:
    if (top_page() != nullptr)
      close_page();
    else if (places_)
      places_ = false;
    else if (window_->full_screen())
      window_->set_full_screen(false);
    return true;
  case Action::quit:
    return quit_ = true;
  default:
    return false;
  }
}

void Room::toggle_play() {
  if (held_ && !conductor_.rolling())
    return go_on();
  hands_.forget_played();
  conductor_.rolling() ? conductor_.stop() : conductor_.start();
}

void Room::tap_tempo() {
  const auto now = Clock::now();
  if (!taps_.empty() && now - taps_.back() > std::chrono::seconds(3))
    taps_.clear();
  taps_.push_back(now);
  if (taps_.size() > 6)
    taps_.erase(taps_.begin());
  if (taps_.size() < 3)
    return say("tap on");
  const std::chrono::duration<double> span = taps_.back() - taps_.front();
  const double beats = 60.0 * static_cast<double>(taps_.size() - 1) / span.count();
  change_tempo(std::round(beats) - beats_per_minute(choice().tempo, snapshot_.song->meter));
}

void Room::change_tempo(double beats) {
  const auto meter = snapshot_.song->meter;
  const double wanted = std::round(beats_per_minute(choice().tempo, meter) + beats);
  const auto tempo = song::tempo_from_beats(std::clamp(wanted, 20.0, 400.0), meter);
  conductor_.apply(practice::SetTempo{tempo});
  say(std::to_string(std::lround(beats_per_minute(tempo, meter))) + " bpm");
}

void Room::loop(std::optional<practice::BarRange> range) {
  conductor_.apply(practice::SetLoop{range});
  say(range ? "loop bars " + std::to_string(std::min(range->first, range->last)) + "–" +
                  std::to_string(std::max(range->first, range->last))
            : "no loop");
}

void Room::loop_section() {
  const auto moment = here();
  if (choice().loop || !moment)
    return loop(std::nullopt);
  const auto& bars = moment->stretch->form->bars;
  auto first = static_cast<std::size_t>(moment->bar->number - 1), last = first;
  while (first > 0 && !bars[first].section_start)
    --first;
  while (last + 1 < bars.size() && !bars[last + 1].section_start)
    ++last;
  loop(practice::BarRange{bars[first].number, bars[last].number});
}

void Room::loop_edge(bool first) {
  const auto moment = here();
  if (!moment)
    return;
  const int bar = moment->bar->number;
  const int count = static_cast<int>(moment->stretch->form->bars.size());
  auto range = choice().loop.value_or(practice::BarRange{1, count});
  (first ? range.first : range.last) = bar;
  if (range.first > range.last)
    range = {bar, bar};
  loop(range);
}

void Room::move_place(int steps) {
  const auto setting = setting_of(instrument_, choice());
  const auto places = neck::all_positions(instrument_, setting.key);
  if (places.empty())
    return;
  const auto next = place_from(places, setting.home, steps);
  choose_place(places[next]);
}

void Room::choose_place(const neck::Position& place) {
  conductor_.apply(practice::SetPlace{practice::request_for(place)});
  auto shown = setting_of(instrument_, choice());
  shown.home = place;
  say(place_words(shown));
}

void Room::move_fret(int frets) {
  const auto home = setting_of(instrument_, choice()).home;
  const neck::PlaceRequest request{std::nullopt, home.low + frets};
  const auto place = neck::find_position(instrument_, choice().key, request);
  if (!place)
    return say(place.error());
  conductor_.apply(practice::SetPlace{request});
  say("first finger at fret " + std::to_string(home.low + frets));
}

void Room::move_key(int half_steps) {
  const auto now = choice();
  const auto key = transposed(now.key, half_steps);
  const auto home = practice::home_of(instrument_, now.key, now.place);
  const std::array<practice::Command, 2> commands{
      practice::SetKey{key}, practice::SetPlace{practice::kept_place(instrument_, home, key)}};
  conductor_.apply(commands);
  say("key " + key_words(key));
}

void Room::next_set(int steps) {
  const auto at = stepped(index_in(common_sets, choice().set.name), steps, common_sets.size());
  choose_set(common_sets[at]);
}

void Room::next_target() {
  constexpr std::array targets{"all",      "roots",       "thirds",    "fifths",
                               "sevenths", "guide tones", "guide line"};
  const auto at = stepped(index_in(targets, target_text(choice().target)), 1, targets.size());
  conductor_.apply(practice::SetTarget{neck::parse_target(targets[at]).value()});
  say(at == 0 ? "every landing note" : std::string("aim at the ") + targets[at]);
}

void Room::next_groups() {
  const int strings = static_cast<int>(instrument_.strings.size());
  const bool keyboard = instrument_.kind == neck::Instrument::Kind::keyboard;
  auto& set = settings_.look.groups;
  set = (set + 1) % (keyboard ? 2 : std::max(strings - 2, 0) + 2);
  if (set == 0)
    return say("no groups");
  if (keyboard || set > strings - 2)
    return say("all groups");
  say("groups on strings " + std::to_string(set) + " to " + std::to_string(set + 2));
}

void Room::next_grip() {
  constexpr int most = 16;
  auto& number = settings_.look.grip_number;
  number = (number + 1) % (most + 1);
  say(number == 0 ? "no other grips" : "grip " + std::to_string(number));
}

void Room::show_places() {
  places_ = !places_;
  if (places_ && instrument_.kind == neck::Instrument::Kind::keyboard)
    say("the places side by side are for a neck");
}

void Room::next_feel(int steps) {
  const auto names = feels_->names();
  if (names.empty())
    return;
  use_feel(names[stepped(index_in(names, feel_now()), steps, names.size())]);
}

void Room::use_feel(const std::string& feel) {
  conductor_.apply(practice::SetFeel{feel});
  say(feel_words(feel));
}

void Room::mute(band::Part part, const char* name) {
  const bool muted = !choice().muted[static_cast<std::size_t>(part)];
  conductor_.apply(practice::SetMuted{part, muted});
  say(std::string(name) + (muted ? " off" : " on"));
}

} // namespace landfall::app
