#include "band/feel_settings.hpp"

#include "band/kit.hpp"
#include "band/pulse.hpp"

#include <algorithm>
#include <utility>

namespace landfall::band {
namespace {

using Trouble = std::optional<TextError>;

/// Reads `key number, key number, ...` into what the keys name.
Trouble set_numbers(Words value, int low, int high, int less,
                    std::initializer_list<std::pair<std::string_view, int*>> places) {
  while (!value.text.empty()) {
    auto item = take_until(value, ',');
    const auto key = take_word(item);
    const auto place = std::find_if(places.begin(), places.end(),
                                    [&](const auto& entry) { return entry.first == key.text; });
    if (place == places.end())
      return error_at(key, "'" + shown(key.text) + "' is no part of this line");
    const auto number = number_in(item, low, high);
    if (!number)
      return number.error();
    *place->second = *number - less;
  }
  return std::nullopt;
}

template <typename T>
Trouble set_word(Words value, T& place,
                 std::initializer_list<std::pair<std::string_view, T>> words) {
  std::string expected;
  for (const auto& [word, meaning] : words) {
    if (value.text == word)
      return place = meaning, std::nullopt;
    expected += (expected.empty() ? "'" : ", '") + std::string(word) + "'";
  }
  return error_at(value, "expected one of " + expected);
}

Trouble set_number(Words value, int low, int high, int& place) {
  const auto number = number_in(value, low, high);
  if (!number)
    return number.error();
  return place = *number, std::nullopt;
}

} // namespace

Trouble FeelSettings::read(Words line) {
  auto value = line;
  if (line.text.find(':') == std::string_view::npos)
    return error_at(line, "expected 'name: value'");
  const auto name = take_until(value, ':');
  value = trimmed(value);
  if (!seen_.emplace(name.text).second)
    return error_at(name, "'" + shown(name.text) + "' stands here for the second time");
  return set(name, value);
}

Trouble FeelSettings::set(Words name, Words value) {
  if (value.text.empty())
    return error_at(value, "expected a value after '" + shown(name.text) + ":'");
  if (name.text == "name")
    return feel_.name = value.text, std::nullopt;
  if (name.text == "about")
    return feel_.about = value.text, std::nullopt;
  if (name.text == "meter")
    return set_meter(value);
  if (name.text == "swing")
    return set_swing(value);
  if (name.text == "colour")
    return set_word(value, feel_.colour,
                    {{"plain", Colour::plain}, {"ninths", Colour::ninths}, {"rich", Colour::rich}});
  if (name.text == "hands")
    return set_word(value, feel_.hands, {{"keys", Hands::keys}, {"guitar", Hands::guitar}});
  if (name.text == "voices")
    return set_number(value, 3, 5, feel_.voices);
  if (name.text == "sounds")
    return set_sounds(value);
  if (name.text == "mix")
    return set_numbers(
        value, 10, 150, 0,
        {{"drums", &feel_.mix.drums}, {"bass", &feel_.mix.bass}, {"comping", &feel_.mix.comping}});
  if (name.text == "opening")
    return set_opening(value);
  return error_at(name, "'" + shown(name.text) + "' is no setting of a feel");
}

Trouble FeelSettings::set_meter(Words value) {
  auto rest = value;
  const auto beats = number_in(take_until(rest, '/'), 1, 16);
  if (!beats)
    return beats.error();
  const auto unit = number_in(trimmed(rest), 2, 16);
  if (!unit)
    return unit.error();
  if (*unit != 2 && *unit != 4 && *unit != 8 && *unit != 16)
    return error_at(trimmed(rest), "expected 2, 4, 8 or 16 below the line");
  const song::Meter meter{*beats, *unit};
  const auto all = pulses(meter);
  if (std::any_of(all.begin(), all.end(),
                  [&](const Pulse& pulse) { return pulse.length != all.front().length; }))
    return error_at(value, "a feel's beats must be equally long, as in 4/4, 5/4 or 12/8");
  feel_.meter = meter;
  return std::nullopt;
}

Trouble FeelSettings::set_swing(Words value) {
  auto rest = value;
  const auto share = tenths_in(take_word(rest), 500, 800);
  if (!share)
    return share.error();
  feel_.swing = {*share, rest.text == "sixteenths"};
  if (rest.text != "sixteenths" && rest.text != "eighths")
    return error_at(rest, "expected 'eighths' or 'sixteenths' after the number");
  return std::nullopt;
}

Trouble FeelSettings::set_sounds(Words value) {
  return set_numbers(value, 1, 128, 1,
                     {{"bass", &feel_.sounds.bass},
                      {"comping", &feel_.sounds.comping},
                      {"kit", &feel_.sounds.kit}});
}

Trouble FeelSettings::set_opening(Words value) {
  const auto* drum = find_drum(value.text);
  if (drum == nullptr)
    return error_at(value, "'" + shown(value.text) + "' is no drum of the kit");
  feel_.opening = drum->note;
  return std::nullopt;
}

} // namespace landfall::band
