#include "app/data.hpp"
#include "app/moves_page.hpp"
#include "app/room.hpp"
#include "app/setup.hpp"
#include "practice/command_text.hpp"

#include <cmath>
#include <iostream>

namespace landfall::app {
namespace {

std::filesystem::path set_list_folder() {
  return user_data_folder() / "set lists";
}

/// What of a choice is the band's, and stays from one start to the next.
bool is_remembered(const practice::Command& command) {
  return std::holds_alternative<practice::SetArrangement>(command) ||
         std::holds_alternative<practice::SetCountIn>(command) ||
         std::holds_alternative<practice::SetIntensity>(command) ||
         std::holds_alternative<practice::SetMuted>(command);
}

} // namespace

/// The song that is open, as it stands: what differs from its own.
practice::SongPlan Room::plan_now() const {
  const auto now = choice();
  const auto& song = *snapshot_.song;
  practice::SongPlan plan;
  plan.song = settings_.song;
  if (now.key != song.key)
    plan.key = now.key;
  if (now.tempo != song.tempo)
    plan.beats_per_minute = std::round(beats_per_minute(now.tempo, song.meter) * 1000.0) / 1000.0;
  if (now.feel != song.feel)
    plan.feel = now.feel;
  if (now.place != neck::PlaceRequest{})
    plan.place = now.place;
  return plan;
}

void Room::remember_song() {
  if (!settings_.song.empty() && song_has_name_ && !lesson_)
    settings_.songs[settings_.song] = plan_now();
}

void Room::choose_song(const std::string& name) {
  remember_song();
  const auto known = settings_.songs.find(name);
  practice::SongPlan plan;
  plan.song = name;
  play_plan(known == settings_.songs.end() ? plan : known->second);
}

/// Tempo, key and feel as the song has them.
void Room::forget_song() {
  settings_.songs.erase(settings_.song);
  practice::SongPlan plan;
  plan.song = settings_.song;
  play_plan(plan);
  say("as the song has it");
}

/// The band goes on, if it plays, with this song from its top.
void Room::play_plan(const practice::SongPlan& plan) {
  const auto song = load_song(plan.song, std::cin);
  if (!song)
    return say(song.error());
  close_list();
  settings_.song = plan.song;
  song_has_name_ = true;
  practice::Session::Setup setup;
  setup.song = song->song;
  setup.feels = feels_;
  setup.seed = seed_;
  setup.choice = choice();
  setup.choice.key = plan.key.value_or(song->song->key);
  setup.choice.tempo = plan.beats_per_minute
                           ? song::tempo_from_beats(*plan.beats_per_minute, song->song->meter)
                           : song->song->tempo;
  setup.choice.feel = plan.feel;
  if (plan.place)
    setup.choice.place = *plan.place;
  setup.choice.loop.reset();
  hands_.forget_played();
  conductor_.set_up(std::move(setup));
  const auto missing = missing_feels(*song->song, feels_->names());
  say(missing.empty() ? song->song->title : missing);
}

void Room::open_set_lists() {
  SetListPage::Calls calls;
  calls.say = [this](const std::string& words) { say(words); };
  calls.play = [this](const SetListFile& file, std::size_t song) {
    set_list_ = file.list;
    play_from_set_list(song);
  };
  open(std::make_unique<SetListPage>(set_list_folder(), plan_now(), std::move(calls)));
}

void Room::play_from_set_list(std::size_t song) {
  set_list_at_ = song;
  remember_song();
  play_plan(set_list_.songs[song]);
}

void Room::next_in_set_list(int steps) {
  if (set_list_.songs.empty())
    return say("choose a set list first");
  const auto at = static_cast<std::ptrdiff_t>(set_list_at_) + steps;
  if (at < 0 || at >= static_cast<std::ptrdiff_t>(set_list_.songs.size()))
    return say(at < 0 ? "this is the first song of the set" : "that was the last song of the set");
  play_from_set_list(static_cast<std::size_t>(at));
}

void Room::open_moves() {
  MovesPage::Calls calls;
  calls.apply = [this](const practice::Command& command) { conductor_.apply(command); };
  calls.say = [this](const std::string& words) { say(words); };
  open(std::make_unique<MovesPage>(choice(), snapshot_.song->meter,
                                   std::make_shared<const neck::Instrument>(instrument_),
                                   std::move(calls)));
}

/// Click, rests, levels and the like as they were left.
void Room::recall_band() {
  for (const auto& text : settings_.band)
    if (const auto command = practice::read_command(text); command && is_remembered(*command))
      conductor_.apply(*command);
}

void Room::remember_band() {
  settings_.band.clear();
  const practice::Choice usual;
  for (const auto& command : practice::commands_for(choice()))
    if (is_remembered(command) && !(with(usual, command) == usual))
      settings_.band.push_back(practice::command_text(command));
}

bool Room::perform_songs(Action action) {
  switch (action) {
  case Action::songs:
    return show_list(song_list(settings_.song)), true;
  case Action::quick_chart:
    return open_quick_chart(), true;
  case Action::set_lists:
    return open_set_lists(), true;
  case Action::set_list_next:
    return next_in_set_list(1), true;
  case Action::set_list_previous:
    return next_in_set_list(-1), true;
  case Action::song_own:
    return forget_song(), true;
  default:
    return false;
  }
}

} // namespace landfall::app
