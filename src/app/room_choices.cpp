#include "app/music_options.hpp"
#include "app/own_sets.hpp"
#include "app/room.hpp"
#include "app/setting.hpp"
#include "app/words.hpp"

#include <iostream>

namespace landfall::app {
namespace {

std::string tuning_words(const InstrumentChoice& choice) {
  auto words = choice.tuning.empty() ? "" : ", " + render::with_signs(choice.tuning);
  if (choice.capo.value_or(0) > 0)
    words += ", capo at fret " + std::to_string(*choice.capo);
  return words;
}

} // namespace

void Room::use_instrument(const InstrumentChoice& wanted) {
  MusicOptions asked;
  asked.instrument = wanted.name;
  asked.tuning = wanted.tuning;
  asked.capo = wanted.capo;
  try {
    instrument_ = instrument_of(asked);
  } catch (const UsageError& error) {
    return say(error.reason);
  }
  settings_.instrument = wanted;
  conductor_.apply(practice::SetPlace{{}});
  if (auto moves = choice().key_moves; moves.every > 0) {
    moves.instrument = std::make_shared<const neck::Instrument>(instrument_);
    conductor_.apply(practice::SetKeyMoves{std::move(moves)});
  }
  say(instrument_.name + tuning_words(wanted));
}

void Room::choose_tuning(const std::string& tuning) {
  auto choice = settings_.instrument;
  choice.tuning = tuning;
  use_instrument(choice);
}

/// None is below the first fret; the highest is as far as hands go.
void Room::move_capo(int frets) {
  constexpr int highest = 12;
  auto choice = settings_.instrument;
  choice.capo = (instrument_.capo + frets + highest + 1) % (highest + 1);
  use_instrument(choice);
}

void Room::choose(const std::string& value) {
  if (value.empty())
    return;
  if (value.starts_with("out:") || value.starts_with("in:"))
    choose_port(value);
  else if (value.starts_with("part:"))
    choose_part(value);
  else if (value.starts_with("clock:") || value == "send-clock")
    choose_clock(value);
  else if (value.starts_with("latency:"))
    choose_latency(value.substr(8));
  else if (value.starts_with("teacher:") || value.starts_with("input:") || value == "calibrate")
    choose_input(value);
  else if (value == "teacher-instrument")
    next_teacher_instrument();
  else if (value.starts_with("instrument:"))
    close_list(), use_instrument({value.substr(11), "", std::nullopt});
  else if (value.starts_with("tuning:"))
    close_list(), choose_tuning(value.substr(7));
  else if (choose_setting(value))
    return;
  else if (value == "own-sound" || value == "through")
    choose_own_sound(value == "own-sound");
  else if (value.starts_with("lesson:") || value == "lesson-leave")
    choose_lesson(value);
  else if (value == "moves")
    open_moves();
  else if (value.starts_with("band:"))
    choose_band(value);
  else if (value.starts_with("next:"))
    choose_next(value.substr(5));
  else if (choose_in_status(value))
    return;
  else if (value.starts_with("set:"))
    choose_set(value.substr(4));
  else
    choose_song(value);
}

void Room::choose_set(const std::string& name) {
  const auto set = own_sets().find(name);
  if (!set)
    return say(set.error().reason);
  close_list();
  const auto over =
      set->kind == theory::NoteSet::Kind::fixed ? choice().over : theory::usual_over(*set);
  conductor_.apply(practice::SetNotes{*set, over});
  say(set->name + (over == theory::Over::key ? " over the key" : " over the chord"));
}

void Room::choose_port(const std::string& value) {
  const bool out = value.starts_with("out:");
  (out ? settings_.out : settings_.in) = value.substr(out ? 4 : 3);
  wish_devices();
  show_ports_again();
  say(out ? "opening the output" : "opening the input");
}

void Room::choose_latency(const std::string& name) {
  settings_.latency = midi::latency_of(name).value_or(midi::Latency::usual);
  wish_devices();
  show_ports_again();
  say(name == "low" ? "the built-in synth sounds sooner" : "the built-in synth sounds as usual");
}

void Room::choose_own_sound(bool own) {
  settings_.own_sound = own;
  wish_devices();
  show_ports_again();
  say(own ? "your instrument is not played through" : "your instrument is heard through Landfall");
}

/// Where they are shown, and not chosen on another page.
void Room::show_ports_again() {
  if (list() != nullptr)
    show_list_again(ports_page());
}

} // namespace landfall::app
