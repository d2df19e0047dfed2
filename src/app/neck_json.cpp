#include "app/neck_json.hpp"

namespace landfall::app {
namespace {

bool on_strings(int string) {
  return string > 0;
}

Json or_null(bool there, int value) {
  return there ? Json(value) : Json(nullptr);
}

const char* name_of(neck::Role role) {
  switch (role) {
  case neck::Role::landing:
    return "landing";
  case neck::Role::chord:
    return "chord";
  case neck::Role::set:
    break;
  }
  return "set";
}

} // namespace

Json json_of(const std::optional<neck::ChordShape>& shape) {
  return {{"shape", shape ? Json(std::string(1, shape->name)) : Json(nullptr)},
          {"nut", or_null(shape.has_value(), shape ? shape->nut : 0)}};
}

Json json_of(const neck::Position& position) {
  auto json = json_of(position.shape);
  json["low"] = position.low;
  json["high"] = position.high;
  return json;
}

Json json_of_landing(const neck::NeckNote& note) {
  return {{"string", or_null(on_strings(note.string), note.string)},
          {"fret", or_null(note.fret.has_value(), note.fret.value_or(0))},
          {"midi", note.midi.number},
          {"note", ascii(note.note)},
          {"degree", ascii(note.degree)}};
}

Json json_of(const neck::NeckNote& note) {
  auto json = json_of_landing(note);
  json["role"] = name_of(note.role);
  json["in_set"] = note.in_set;
  json["in_grip"] = note.in_grip;
  json["reach"] = note.reach;
  return json;
}

Json json_of(const neck::Group& group) {
  const bool strings = on_strings(group.strings.front());
  return {{"strings", strings ? Json(group.strings) : Json::array()},
          {"kind", group.kind == neck::Group::Kind::triad ? "triad" : "fifth"},
          {"form", group.form},
          {"frets", group.frets},
          {"in_grip", group.in_grip}};
}

Json json_of(const neck::Grip& grip) {
  auto frets = Json::array();
  for (const auto& fret : grip.frets)
    frets.push_back(or_null(fret.has_value(), fret.value_or(0)));
  return {{"name", grip.name}, {"frets", frets}, {"fingers", grip.fingers}};
}

namespace {

template <typename List> Json array_of(const List& list) {
  auto array = Json::array();
  for (const auto& item : list)
    array.push_back(json_of(item));
  return array;
}

} // namespace

Json json_of(const neck::Setting& setting, const std::optional<theory::Chord>& chord,
             const neck::NeckView& view) {
  auto tuning = Json::array();
  for (const auto& string : setting.instrument->strings)
    tuning.push_back(ascii(string.open));
  return {{"instrument", setting.instrument->name},
          {"tuning", tuning},
          {"key", ascii(setting.key)},
          {"chord", chord ? Json(ascii(*chord)) : Json(nullptr)},
          {"set", setting.set.name},
          {"over", setting.over == theory::Over::key ? "key" : "chord"},
          {"position", json_of(view.hand)},
          {"chord_shape", json_of(view.chord_shape)},
          {"notes", array_of(view.notes)},
          {"groups", array_of(view.groups)},
          {"grips", array_of(view.grips)}};
}

} // namespace landfall::app
