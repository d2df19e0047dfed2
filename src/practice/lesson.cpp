#include "practice/lesson.hpp"

#include "practice/place_text.hpp"

#include <cassert>

namespace landfall::practice {
namespace {

void add(std::string& text, std::string_view name, std::string_view value) {
  if (!value.empty())
    text.append(name).append(": ").append(value).append("\n");
}

std::string words_of(const std::array<bool, band::all_parts.size()>& muted) {
  constexpr std::array<std::string_view, 4> names{"drums", "bass", "comping", "click"};
  std::string words;
  for (std::size_t part = 0; part < muted.size(); ++part)
    if (muted[part])
      words.append(words.empty() ? "" : ", ").append(names[part]);
  return words.empty() ? "none" : words;
}

std::string words_of(const neck::Shown& shown) {
  std::string words;
  const auto add_layer = [&](bool on, const char* name) {
    if (on)
      words.append(words.empty() ? "" : ", ").append(name);
  };
  add_layer(shown.landing, "landing");
  add_layer(shown.set, "set");
  add_layer(shown.chord_tones, "chord-tones");
  add_layer(shown.grip, "grip");
  add_layer(shown.groups, "groups");
  add_layer(shown.grips, "grips");
  return words;
}

std::string words_of(neck::LabelKind labels) {
  constexpr std::array<const char*, 5> names{"degree", "key", "note", "finger", "none"};
  return names[static_cast<std::size_t>(labels)];
}

std::string words_of(const std::optional<BarRange>& loop) {
  return loop ? std::to_string(loop->first) + "-" + std::to_string(loop->last) : "none";
}

std::string room_words(const Scene& scene) {
  std::string words;
  for (const auto& word : {scene.room, scene.kind, scene.density})
    if (!word.empty())
      words += (words.empty() ? "" : ", ") + word;
  return words;
}

std::string board_words(const Scene& scene) {
  if (!scene.whole_board && !scene.neck_only)
    return "";
  return scene.neck_only.value_or(false)     ? "only"
         : scene.whole_board.value_or(false) ? "whole"
                                             : "position";
}

std::string set_words(const Scene& scene) {
  if (!scene.set)
    return "";
  const auto over = scene.over.value_or(theory::usual_over(*scene.set));
  return scene.set->name + (over == theory::Over::key ? " over the key" : " over the chord");
}

void add(std::string& text, const Scene& scene) {
  text += "\n";
  add(text, "scene", scene.name);
  add(text, "say", scene.say);
  for (const auto& note : scene.notes)
    add(text, "note", note);
  add(text, "song", scene.song);
  add(text, "key", scene.key ? ascii(*scene.key) : "");
  add(text, "place", scene.place ? place_text(*scene.place) : "");
  add(text, "set", set_words(scene));
  add(text, "target", scene.target ? target_text(*scene.target) : "");
  add(text, "tempo", scene.tempo ? std::to_string(*scene.tempo) : "");
  add(text, "loop", scene.loop ? words_of(*scene.loop) : "");
  add(text, "feel", scene.feel);
  add(text, "mute", scene.muted ? words_of(*scene.muted) : "");
  add(text, "show", scene.show ? words_of(*scene.show) : "");
  add(text, "labels", scene.labels ? words_of(*scene.labels) : "");
  add(text, "board", board_words(scene));
  add(text, "room", room_words(scene));
}

template <typename Value> void keep(Value& value, const Value& before, const Value& nothing = {}) {
  if (value == nothing)
    value = before;
}

template <typename Value>
void keep(std::optional<Value>& value, const std::optional<Value>& before) {
  if (!value)
    value = before;
}

/// What `scene` leaves out, from the one before it. Another song brings its own key, tempo, feel
/// and bars.
void inherit(Scene& scene, const Scene& before) {
  const bool same_song = scene.song.empty() || scene.song == before.song;
  keep(scene.song, before.song);
  if (same_song) {
    keep(scene.key, before.key);
    keep(scene.tempo, before.tempo);
    keep(scene.loop, before.loop);
    keep(scene.feel, before.feel);
  }
  keep(scene.room, before.room);
  keep(scene.density, before.density);
  keep(scene.kind, before.kind);
  keep(scene.place, before.place);
  keep(scene.over, scene.set ? scene.over : before.over);
  keep(scene.set, before.set);
  keep(scene.target, before.target);
  keep(scene.muted, before.muted);
  keep(scene.show, before.show);
  keep(scene.labels, before.labels);
  keep(scene.whole_board, before.whole_board);
  keep(scene.neck_only, before.neck_only);
}

} // namespace

std::string as_text(const Lesson& lesson) {
  std::string text;
  add(text, "title", lesson.title);
  add(text, "about", lesson.about);
  add(text, "instrument", lesson.instrument);
  for (const auto& scene : lesson.scenes)
    add(text, scene);
  return text;
}

Scene whole_scene(const Lesson& lesson, std::size_t number) {
  assert(number < lesson.scenes.size());
  Scene whole = lesson.scenes[0];
  for (std::size_t at = 1; at <= number; ++at) {
    Scene next = lesson.scenes[at];
    inherit(next, whole);
    whole = std::move(next);
  }
  return whole;
}

} // namespace landfall::practice
