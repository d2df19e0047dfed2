#include "app/actions.hpp"

#include <array>

namespace landfall::app {
namespace {

using enum Action;

constexpr std::string_view playing = "Playing", place = "Place and key", notes = "Notes",
                           band = "Band", trading = "Trade", board_section = "Board",
                           lesson = "Lesson", window = "Window", ear = "Your landings";

constexpr std::array table{
    ActionRow{toggle_play, playing, "start-stop", "start or stop", "Space"},
    ActionRow{from_top, playing, "from-the-top", "start again from the top", "Return"},
    ActionRow{end_now, playing, "end-now", "close the song with an ending", "0"},
    ActionRow{tap_tempo, playing, "tap-tempo", "tap the tempo", "t"},
    ActionRow{tempo_up, playing, "tempo-up", "faster by two", "+", "="},
    ActionRow{tempo_down, playing, "tempo-down", "slower by two", "-"},
    ActionRow{loop_section, playing, "loop-section", "loop this section, or let go", "l"},
    ActionRow{loop_from, playing, "loop-from", "loop from this bar", ","},
    ActionRow{loop_to, playing, "loop-to", "loop to this bar", "."},
    ActionRow{loop_change, playing, "loop-change", "loop the last change, or let go", ";"},
    ActionRow{place_up, place, "place-up", "next place up the neck", "]", "Right"},
    ActionRow{place_down, place, "place-down", "next place down the neck", "[", "Left"},
    ActionRow{fret_up, place, "fret-up", "one fret up", "}"},
    ActionRow{fret_down, place, "fret-down", "one fret down", "{"},
    ActionRow{key_up, place, "key-up", "key up a half step", "k", "Up"},
    ActionRow{key_down, place, "key-down", "key down a half step", "K", "Down"},
    ActionRow{key_fourth, place, "key-fourth", "key up a fourth", "j"},
    ActionRow{set_next, notes, "set-next", "next note set", "n"},
    ActionRow{set_previous, notes, "set-previous", "previous note set", "N"},
    ActionRow{sets, notes, "sets", "all note sets", "x"},
    ActionRow{over_toggle, notes, "over", "set over the key or the chord", "o"},
    ActionRow{target_next, notes, "target", "aim at thirds, roots, a line", "q"},
    ActionRow{mute_drums, band, "mute-drums", "drums on or off", "1"},
    ActionRow{mute_bass, band, "mute-bass", "bass on or off", "2"},
    ActionRow{mute_comping, band, "mute-comping", "comping on or off", "3"},
    ActionRow{click_next, band, "click", "click on all beats, on 2 and 4, or off", "4"},
    ActionRow{band_page, band, "band", "levels, rests, drone, moves", "r"},
    ActionRow{fuller, band, "fuller", "band plays fuller", "e"},
    ActionRow{quieter, band, "quieter", "band plays quieter", "E"},
    ActionRow{feel_next, band, "feel-next", "next feel", "f"},
    ActionRow{feel_previous, band, "feel-previous", "previous feel", "F"},
    ActionRow{landing_notes, board_section, "landing-notes", "landing notes", "a"},
    ActionRow{set_notes, board_section, "set-notes", "the set's other notes", "z"},
    ActionRow{chord_tones, board_section, "chord-tones", "all chord tones", "c"},
    ActionRow{grip, board_section, "grip", "the grip of the chord's shape", "g"},
    ActionRow{grip_next, board_section, "grip-next", "other grips, with sevenths", "G"},
    ActionRow{groups, board_section, "groups", "groups on three strings, set by set", "d"},
    ActionRow{places, board_section, "places", "every place of the key", "5"},
    ActionRow{labels, board_section, "labels", "degrees, names, fingers or none", "v"},
    ActionRow{board, board_section, "board", "position or whole board", "b"},
    ActionRow{instrument, board_section, "instrument", "instruments", "i"},
    ActionRow{left_handed, board_section, "left-handed", "nut left or right", "h"},
    ActionRow{seen_by_player, board_section, "seen-by-player", "low string at the top", "u"},
    ActionRow{true_spacing, board_section, "true-spacing", "frets as on the wood", "w"},
    ActionRow{word_landed, ear, "landed", "without MIDI: I landed that change", "m"},
    ActionRow{word_missed, ear, "missed", "without MIDI: I missed it", "M"},
    ActionRow{keep_take, ear, "keep-take", "keep this take", "R"},
    ActionRow{takes, ear, "takes", "takes: hear and see them again", "T"},
    ActionRow{last_chorus, ear, "last-chorus", "hear my last chorus with the band", "\\"},
    ActionRow{calibrate, ear, "calibrate", "how late you are heard", "X"},
    ActionRow{history, ear, "history", "what you practised", "H"},
    ActionRow{what_next, ear, "what-next", "what to practise next", "W"},
    ActionRow{what_next_start, ear, "what-next-start", "start what comes next", "6"},
    ActionRow{routine, ear, "routine", "timed routine, hands-free", "7"},
    ActionRow{fading, ear, "fading", "lights fade as you land: off, slow, fast", "L"},
    ActionRow{trade, trading, "trade", "jam, or trade phrases", "Tab"},
    ActionRow{call_again, trading, "call-again", "the same call again", "/"},
    ActionRow{half_speed, trading, "half-speed", "again at half speed", "'"},
    ActionRow{easier_call, trading, "easier", "again with fewer notes", "8"},
    ActionRow{next_call, trading, "next-call", "on to the next call", "9"},
    ActionRow{show_call, trading, "show-call", "draw the call, or only play it", "\""},
    ActionRow{answer_kind, trading, "answer-kind", "echo, rhythm or free answers", "A"},
    ActionRow{density, trading, "density", "how much goes on in a call", "D"},
    ActionRow{turn_length, trading, "turn-length", "turns of one, two or four bars", "B"},
    ActionRow{player_begins, trading, "player-begins", "who begins: the call, or you", "U"},
    ActionRow{record_call, trading, "record-call", "calls come from an instrument", "C"},
    ActionRow{phrases, trading, "phrases", "kept phrases as calls", "P"},
    ActionRow{keep_phrase, trading, "keep-phrase", "keep the last call; again, the answer", "V"},
    ActionRow{drill, trading, "drill", "a kept phrase through places or keys", "Z"},
    ActionRow{lessons, lesson, "lessons", "lessons", "Y"},
    ActionRow{next_scene, lesson, "next-scene", "next scene", "PageDown"},
    ActionRow{previous_scene, lesson, "previous-scene", "the scene before", "PageUp"},
    ActionRow{scenes, lesson, "scenes", "jump to a scene", "F3"},
    ActionRow{add_scene, lesson, "add-scene", "what you see, as a scene", "Ctrl+A"},
    ActionRow{freeze, lesson, "freeze", "hold the band, or go on from there", "F4"},
    ActionRow{chord_back, lesson, "chord-back", "held: the chord before", "F5"},
    ActionRow{chord_on, lesson, "chord-on", "held: the next chord", "F6"},
    ActionRow{beat_back, lesson, "beat-back", "held: a beat back", "F7"},
    ActionRow{beat_on, lesson, "beat-on", "held: the next beat", "F8"},
    ActionRow{play_through, lesson, "play-through", "play the lit notes, up and down", "F9"},
    ActionRow{chalk, lesson, "chalk", "chalk: point, circle, hide, show", "F10"},
    ActionRow{wipe, lesson, "wipe", "wipe the chalk off", "Ctrl+W"},
    ActionRow{notes_window, lesson, "notes-window", "your notes, in a window of their own",
              "Ctrl+T"},
    ActionRow{leave_lesson, lesson, "leave-lesson", "leave the lesson", "Ctrl+L"},
    ActionRow{neck_only, lesson, "neck-only", "only the board and its chord, large", "Ctrl+B"},
    ActionRow{play_on_keys, window, "play-on-keys", "computer's keys as notes", "F2"},
    ActionRow{songs, window, "songs", "songs", "s"},
    ActionRow{quick_chart, window, "quick-chart", "a tune of your own", "Q"},
    ActionRow{set_lists, window, "set-lists", "set lists", "S"},
    ActionRow{set_list_next, window, "set-list-next", "next song of the set", ">"},
    ActionRow{set_list_previous, window, "set-list-previous", "song before it", "<"},
    ActionRow{song_own, window, "song-own", "the song as it is written", "J"},
    ActionRow{settings, window, "settings", "settings", "Ctrl+,", "F12"},
    ActionRow{ports, window, "ports", "MIDI ports", "p"},
    ActionRow{rig, window, "rig", "how the rig keeps time", "I"},
    ActionRow{controls, window, "controls", "foot switches, pads, knobs", "O"},
    ActionRow{theme, window, "theme", "dark or light", "y"},
    ActionRow{text_larger, window, "text-larger", "larger text", "Ctrl+=", "Ctrl++"},
    ActionRow{text_smaller, window, "text-smaller", "smaller text", "Ctrl+-"},
    ActionRow{full_screen, window, "full-screen", "full screen", "F11"},
    ActionRow{help, window, "help", "this page", "?", "F1"},
    ActionRow{panic, window, "panic", "silence everything", "Backspace"},
    ActionRow{back, window, "back", "close a page", "Escape"},
    ActionRow{quit, window, "quit", "end the program", "Ctrl+Q"},
};

bool is_sign(std::string_view text) {
  return !text.empty() && text != " " && static_cast<unsigned char>(text.front()) > ' ' &&
         text != "\x7f";
}

} // namespace

std::span<const ActionRow> action_table() {
  return table;
}

std::string key_name(const render::KeyPress& press) {
  if (press.control)
    return "Ctrl+" + press.name;
  if (press.alt)
    return "Alt+" + press.name;
  if (is_sign(press.text))
    return press.text;
  if (press.name.size() > 1)
    return press.shift ? "Shift+" + press.name : press.name;
  return press.name;
}

std::optional<Action> action_of(const render::KeyPress& press) {
  const auto name = key_name(press);
  for (const auto& row : table)
    if (row.key == name || (!row.other_key.empty() && row.other_key == name))
      return row.action;
  return std::nullopt;
}

} // namespace landfall::app
