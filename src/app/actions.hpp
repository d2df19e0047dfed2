#pragma once

#include "render/input.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace landfall::app {

/// Everything that the player can do. The order is the table's.
enum class Action : std::uint8_t {
  toggle_play,
  from_top,
  end_now,
  tap_tempo,
  tempo_up,
  tempo_down,
  loop_from,
  loop_to,
  loop_section,
  place_up,
  place_down,
  fret_up,
  fret_down,
  key_up,
  key_down,
  key_fourth,
  set_next,
  set_previous,
  sets,
  over_toggle,
  target_next,
  labels,
  board,
  landing_notes,
  set_notes,
  chord_tones,
  grip,
  grip_next,
  groups,
  places,
  instrument,
  mute_drums,
  mute_bass,
  mute_comping,
  click_next,
  band_page,
  fuller,
  quieter,
  feel_next,
  feel_previous,
  trade,
  call_again,
  half_speed,
  easier_call,
  next_call,
  show_call,
  answer_kind,
  density,
  turn_length,
  player_begins,
  record_call,
  phrases,
  keep_phrase,
  drill,
  lessons,
  next_scene,
  previous_scene,
  scenes,
  add_scene,
  leave_lesson,
  notes_window,
  freeze,
  chord_on,
  chord_back,
  beat_on,
  beat_back,
  play_through,
  chalk,
  wipe,
  neck_only,
  play_on_keys,
  controls,
  rig,
  songs,
  quick_chart,
  set_lists,
  set_list_next,
  set_list_previous,
  song_own,
  settings,
  ports,
  theme,
  text_larger,
  text_smaller,
  left_handed,
  seen_by_player,
  true_spacing,
  full_screen,
  help,
  word_landed,
  word_missed,
  keep_take,
  takes,
  last_chorus,
  loop_change,
  calibrate,
  history,
  what_next,
  what_next_start,
  routine,
  fading,
  panic,
  back,
  quit,
};

/// One row of the table that makes the key handling and the help page.
struct ActionRow {
  Action action;
  std::string_view section; ///< Of the help page.
  std::string_view name;    ///< As files and learned controls call it: `place-up`.
  std::string_view help;    ///< What it does, in a few words.
  std::string_view key;     ///< `Space`, `k`, `K`, `?`, `Ctrl+Q`.
  std::string_view other_key = {};
};

/// Every action, once.
std::span<const ActionRow> action_table();

/// How the table writes a pressed key: by what it types, if that is a sign, else by its name.
std::string key_name(const render::KeyPress& press);

/// The action of a key; none if it has none.
std::optional<Action> action_of(const render::KeyPress& press);

} // namespace landfall::app
