#include "app/settings.hpp"

#include "app/data.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

using Json = nlohmann::ordered_json;

/// Each song as the text of a set list of one.
Json json_of(const std::map<std::string, practice::SongPlan>& songs) {
  Json json = Json::object();
  for (const auto& [name, plan] : songs)
    json[name] = as_text(practice::SetList{"", {plan}});
  return json;
}

Json json_of(const VoiceRoutes& routes) {
  auto parts = Json::array();
  for (const auto& [voice, route] : routes)
    parts.push_back(as_text(voice, route));
  return parts;
}

/// What cannot be read is left out.
VoiceRoutes routes_from(const std::vector<std::string>& lines) {
  VoiceRoutes routes;
  for (const auto& line : lines)
    if (const auto read = read_voice_route(line))
      routes.insert_or_assign(read->first, read->second);
  return routes;
}

Json json_of(const std::vector<practice::RoutinePart>& routine) {
  auto parts = Json::array();
  for (const auto& part : routine)
    parts.push_back({{"play", routine_word(part.kind)}, {"minutes", part.length.count()}});
  return parts;
}

Json json_of(const Settings& settings) {
  const auto& look = settings.look;
  return {{"started_before", settings.started_before},
          {"song", settings.song},
          {"key", settings.key},
          {"shape", settings.shape},
          {"position", settings.position ? Json(*settings.position) : Json(nullptr)},
          {"set", settings.set},
          {"over", settings.over},
          {"target", settings.target},
          {"beats_per_minute", std::round(settings.beats_per_minute * 1000) / 1000},
          {"instrument", settings.instrument.name},
          {"tuning", settings.instrument.tuning},
          {"capo", settings.instrument.capo ? Json(*settings.instrument.capo) : Json(nullptr)},
          {"out", settings.out},
          {"latency", midi::latency_name(settings.latency)},
          {"in", settings.in},
          {"teacher", settings.teacher},
          {"follow_clock", settings.clock},
          {"send_clock", settings.sends_clock},
          {"parts", json_of(settings.routes)},
          {"thru_channels", settings.thru_channels},
          {"teacher_instrument", settings.teacher_instrument},
          {"inputs", app::json_of(settings.inputs)},
          {"songs", json_of(settings.songs)},
          {"lessons", settings.lessons},
          {"band", settings.band},
          {"own_sound", settings.own_sound},
          {"routine", json_of(settings.routine)},
          {"look",
           {{"theme", look.theme == render::Theme::paper ? "paper" : "stage"},
            {"text_scale", look.text_scale},
            {"labels", static_cast<int>(look.labels)},
            {"landing", look.landing},
            {"set_notes", look.set_notes},
            {"chord_tones", look.chord_tones},
            {"grip", look.grip},
            {"groups", look.groups},
            {"fading", static_cast<int>(look.fading)},
            {"whole_board", look.whole_board},
            {"true_spacing", look.true_spacing},
            {"left_handed", look.left_handed},
            {"seen_by_player", look.seen_by_player}}}};
}

std::map<std::string, practice::SongPlan> songs_from(const Json& json) {
  std::map<std::string, practice::SongPlan> songs;
  for (const auto& [name, text] : json.items()) {
    if (!text.is_string())
      continue;
    const auto list = practice::read_set_list(text.get<std::string>());
    if (list && list->songs.size() == 1)
      songs[name] = list->songs.front();
  }
  return songs;
}

/// Reads a field if it is there and of the right kind; else leaves the usual value.
template <typename T> void take(const Json& json, const char* name, T& value) {
  const auto found = json.find(name);
  if (found == json.end())
    return;
  try {
    value = found->get<T>();
  } catch (const nlohmann::json::exception&) {
    return; // another kind of value: the usual one stays
  }
}

Look look_from(const Json& json) {
  Look look;
  std::string theme;
  int labels = 0, fading = 0;
  take(json, "theme", theme);
  take(json, "labels", labels);
  take(json, "fading", fading);
  take(json, "text_scale", look.text_scale);
  take(json, "landing", look.landing);
  take(json, "set_notes", look.set_notes);
  take(json, "chord_tones", look.chord_tones);
  take(json, "grip", look.grip);
  take(json, "groups", look.groups);
  take(json, "whole_board", look.whole_board);
  take(json, "true_spacing", look.true_spacing);
  take(json, "left_handed", look.left_handed);
  take(json, "seen_by_player", look.seen_by_player);
  look.theme = theme == "paper" ? render::Theme::paper : render::Theme::stage;
  look.text_scale = std::clamp(look.text_scale, 0.75, 2.0);
  look.fading = static_cast<practice::FadingSpeed>(std::clamp(fading, 0, 2));
  look.groups = std::clamp(look.groups, 0, 24);
  look.labels = static_cast<neck::LabelKind>(std::clamp(labels, 0, label_kinds - 1));
  return look;
}

/// Parts that cannot be read are left out.
std::vector<practice::RoutinePart> routine_from(const Json& json) {
  std::vector<practice::RoutinePart> routine;
  for (const auto& part : json) {
    std::string word;
    int minutes = 5;
    if (!part.is_object())
      continue;
    take(part, "play", word);
    take(part, "minutes", minutes);
    if (const auto kind = practice::routine_kind(word))
      routine.push_back({*kind, std::chrono::minutes{std::clamp(minutes, 1, 240)}});
  }
  return routine;
}

Settings settings_from(const Json& json) {
  Settings settings;
  take(json, "started_before", settings.started_before);
  take(json, "song", settings.song);
  take(json, "key", settings.key);
  take(json, "shape", settings.shape);
  int position = -1;
  take(json, "position", position);
  if (position >= 0)
    settings.position = position;
  take(json, "set", settings.set);
  take(json, "over", settings.over);
  take(json, "target", settings.target);
  take(json, "beats_per_minute", settings.beats_per_minute);
  take(json, "instrument", settings.instrument.name);
  take(json, "tuning", settings.instrument.tuning);
  int capo = -1;
  take(json, "capo", capo);
  if (capo >= 0)
    settings.instrument.capo = capo;
  take(json, "out", settings.out);
  std::string latency;
  take(json, "latency", latency);
  settings.latency = midi::latency_of(latency).value_or(midi::Latency::usual);
  take(json, "in", settings.in);
  take(json, "teacher", settings.teacher);
  take(json, "follow_clock", settings.clock);
  take(json, "send_clock", settings.sends_clock);
  std::vector<std::string> parts;
  take(json, "parts", parts);
  settings.routes = routes_from(parts);
  take(json, "thru_channels", settings.thru_channels);
  take(json, "teacher_instrument", settings.teacher_instrument);
  if (const auto inputs = json.find("inputs"); inputs != json.end())
    settings.inputs = input_setups_from(*inputs);
  if (const auto songs = json.find("songs"); songs != json.end() && songs->is_object())
    settings.songs = songs_from(*songs);
  take(json, "lessons", settings.lessons);
  take(json, "band", settings.band);
  take(json, "own_sound", settings.own_sound);
  if (const auto routine = json.find("routine"); routine != json.end() && routine->is_array())
    settings.routine = routine_from(*routine);
  if (const auto look = json.find("look"); look != json.end() && look->is_object())
    settings.look = look_from(*look);
  return settings;
}

} // namespace

Settings load_settings(const std::filesystem::path& file, std::string& problem) {
  std::error_code error;
  if (!std::filesystem::exists(file, error))
    return {};
  const auto text = read_file(file, 1U << 20U);
  const auto json = Json::parse(text.text, nullptr, false);
  if (text.error.empty() && json.is_object())
    return settings_from(json);
  auto aside = file;
  aside += ".unreadable";
  std::filesystem::rename(file, aside, error);
  problem = "the settings could not be read; they are kept in " + aside.string();
  return {};
}

std::string save_settings(const std::filesystem::path& file, const Settings& settings) {
  return write_file(file, json_of(settings).dump(2) + "\n");
}

std::filesystem::path settings_file() {
  return config_folder() / "settings.json";
}

} // namespace landfall::app
