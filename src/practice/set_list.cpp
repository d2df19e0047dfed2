#include "practice/set_list.hpp"

#include "practice/place_text.hpp"
#include "theory/named_lines.hpp"
#include "time/tempo.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace landfall::practice {
namespace {

using Problem = std::optional<TextError>;
constexpr std::size_t most_songs = 500, longest_value = 1000;

Result<double> read_tempo(const NamedField& field) {
  double beats = 0.0;
  const auto* end = field.value.data() + field.value.size();
  const auto [rest, status] = std::from_chars(field.value.data(), end, beats);
  if (status != std::errc{} || rest != end || !(beats >= min_bpm && beats <= max_bpm))
    return field.bad_value("expected beats a minute from 20 to 400");
  return std::round(beats * 1000.0) / 1000.0;
}

Problem take_song(const NamedField& field, SongPlan& plan) {
  if (field.name == "feel")
    return plan.feel = field.value, std::nullopt;
  if (field.name == "key") {
    const auto key = theory::parse_key(field.value);
    if (!key)
      return field.bad_value(key.error().reason);
    return plan.key = *key, std::nullopt;
  }
  if (field.name == "tempo") {
    const auto tempo = read_tempo(field);
    if (!tempo)
      return tempo.error();
    return plan.beats_per_minute = *tempo, std::nullopt;
  }
  if (field.name == "place") {
    const auto place = read_place(field);
    if (!place)
      return place.error();
    return plan.place = *place, std::nullopt;
  }
  return field.bad_name("unknown name '" + std::string(field.name.substr(0, 40)) +
                        "': expected song, key, tempo, feel or place");
}

Problem take(const NamedField& field, SetList& list) {
  if (field.value.empty())
    return field.bad_value("expected a value after the colon");
  if (field.value.size() > longest_value)
    return field.bad_value("a value has at most 1000 characters", longest_value);
  if (field.name == "song") {
    if (list.songs.size() == most_songs)
      return field.bad_name("a set list has at most 500 songs");
    list.songs.emplace_back().song = field.value;
    return std::nullopt;
  }
  if (!list.songs.empty())
    return take_song(field, list.songs.back());
  if (field.name == "title")
    return list.title = field.value, std::nullopt;
  return field.bad_name("expected title or the first song");
}

std::string number(double value) {
  std::array<char, 40> text{};
  const double kept = std::round(value * 1000.0) / 1000.0;
  return {text.data(), std::to_chars(text.data(), text.data() + text.size(), kept).ptr};
}

void add(std::string& text, std::string_view name, const std::string& value) {
  if (!value.empty())
    text.append(name).append(": ").append(value).append("\n");
}

} // namespace

Result<SetList> read_set_list(std::string_view text) {
  SetList list;
  if (auto problem = read_named_lines(text, [&](const auto& field) { return take(field, list); }))
    return *problem;
  return list;
}

std::string as_text(const SetList& list) {
  std::string text;
  add(text, "title", list.title);
  for (const auto& plan : list.songs) {
    text += "\n";
    add(text, "song", plan.song);
    add(text, "key", plan.key ? ascii(*plan.key) : "");
    add(text, "tempo", plan.beats_per_minute ? number(*plan.beats_per_minute) : "");
    add(text, "feel", plan.feel);
    add(text, "place", plan.place ? place_text(*plan.place) : "");
  }
  return text;
}

} // namespace landfall::practice
