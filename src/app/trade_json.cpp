#include "app/trade_json.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace landfall::app {
namespace {

using Json = nlohmann::ordered_json;
using trade::Phrase;
using trade::PhraseNote;

constexpr std::array kinds{"echo", "rhythm", "free"};
constexpr std::array fates{"matched", "wrong", "missing", "waiting"};
constexpr std::int64_t furthest = 1'000'000'000'000; ///< Ticks: years.
constexpr int most_bars = 64;
constexpr std::size_t most_notes = 500;

Json or_null(const std::optional<int>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json json_of(const PhraseNote& note) {
  return {note.start.count,
          note.length.count,
          note.midi.number,
          note.velocity,
          or_null(note.string),
          or_null(note.fret),
          note.bend_cents ? Json(*note.bend_cents) : Json(nullptr),
          static_cast<int>(note.role),
          note.chord,
          ascii(note.degree)};
}

Json json_of(const Phrase& phrase) {
  Json chords = Json::array(), notes = Json::array();
  for (const auto& chord : phrase.chords)
    chords.push_back({chord.at.count, chord.chord ? Json(ascii(*chord.chord)) : Json(nullptr)});
  for (const auto& note : phrase.notes)
    notes.push_back(json_of(note));
  return {{"bars", phrase.bars},
          {"metre", {phrase.meter.beats, phrase.meter.unit}},
          {"length", phrase.length.count},
          {"key", ascii(phrase.key)},
          {"chords", chords},
          {"notes", notes}};
}

/// Throws what is no whole number between the two.
std::int64_t whole(const Json& json, std::int64_t low, std::int64_t high) {
  const auto value = json.get<std::int64_t>();
  if (!json.is_number_integer() || value < low || value > high)
    throw std::out_of_range("a number");
  return value;
}

int small(const Json& json, int low, int high) {
  return static_cast<int>(whole(json, low, high));
}

Ticks ticks(const Json& json) {
  return {whole(json, -furthest, furthest)};
}

std::optional<int> maybe(const Json& json, int low, int high) {
  return json.is_null() ? std::nullopt : std::optional(small(json, low, high));
}

/// What the core reads, or an exception.
template <typename Read> auto read(const Json& json, Read&& parse) {
  auto result = parse(json.get<std::string>());
  if (!result)
    throw std::out_of_range("a name");
  return *result;
}

PhraseNote note_from(const Json& json, const Phrase& phrase) {
  PhraseNote note;
  note.start = ticks(json.at(0));
  note.length = {whole(json.at(1), 1, furthest)};
  note.midi = {small(json.at(2), 0, 127)};
  note.velocity = small(json.at(3), 1, 127);
  note.string = maybe(json.at(4), 1, 99);
  note.fret = maybe(json.at(5), 0, 99);
  if (!json.at(6).is_null())
    note.bend_cents = std::clamp(json.at(6).get<double>(), -9600.0, 9600.0);
  note.role = static_cast<trade::PhraseRole>(small(json.at(7), 0, 3));
  note.chord = small(json.at(8), 0, static_cast<int>(phrase.chords.size()) - 1);
  note.degree = read(json.at(9), [](const auto& text) { return theory::parse_degree(text); });
  return note;
}

Phrase phrase_from(const Json& json) {
  Phrase phrase;
  phrase.bars = small(json.at("bars"), 0, most_bars);
  phrase.meter.beats = small(json.at("metre").at(0), 1, 32);
  phrase.meter.unit = small(json.at("metre").at(1), 1, 32);
  phrase.length = ticks(json.at("length"));
  phrase.key = read(json.at("key"), [](const auto& text) { return theory::parse_key(text); });
  for (const auto& chord : json.at("chords")) {
    trade::PhraseChord& added = phrase.chords.emplace_back();
    added.at = ticks(chord.at(0));
    if (!chord.at(1).is_null())
      added.chord = read(chord.at(1), [](const auto& text) { return theory::parse_chord(text); });
  }
  if (json.at("notes").size() > most_notes)
    throw std::out_of_range("notes");
  for (const auto& note : json.at("notes"))
    phrase.notes.push_back(note_from(note, phrase));
  std::ranges::stable_sort(phrase.notes, {}, &PhraseNote::start);
  return phrase;
}

double rounded(double value) {
  return std::round(value * 10.0) / 10.0;
}

Json json_of(const ear::AskedNote& asked, const ear::MatchedNote& note,
             const practice::TurnVerdict& verdict) {
  Json json{{"midi", asked.midi}, {"fate", fates[static_cast<std::size_t>(note.fate)]}};
  json["heard"] = note.heard ? Json(verdict.answer[*note.heard].midi) : Json(nullptr);
  json["cents_off"] = note.heard ? Json(rounded(note.cents_off)) : Json(nullptr);
  json["behind_ms"] = note.heard ? Json(rounded(note.behind_ms)) : Json(nullptr);
  return json;
}

} // namespace

const char* name_of(trade::AnswerKind kind) {
  return kinds[static_cast<std::size_t>(kind)];
}

std::optional<trade::AnswerKind> answer_kind_named(std::string_view name) {
  const auto at = std::ranges::find(kinds, name);
  if (at == kinds.end())
    return std::nullopt;
  return static_cast<trade::AnswerKind>(at - kinds.begin());
}

Json json_of(const practice::TradeTurn& turn) {
  const auto& place = turn.turn;
  return {{"turn", place.number},
          {"call_at", place.call.count},
          {"answer_at", place.answer.count},
          {"end", place.end.count},
          {"beat", place.beat.count},
          {"kind", name_of(turn.kind)},
          {"call", json_of(turn.call)},
          {"asked", json_of(turn.asked)}};
}

std::optional<practice::TradeTurn> turn_from(const Json& json) try {
  practice::TradeTurn turn;
  turn.turn.number = small(json.at("turn"), 0, 1'000'000'000);
  turn.turn.call = ticks(json.at("call_at"));
  turn.turn.answer = ticks(json.at("answer_at"));
  turn.turn.end = ticks(json.at("end"));
  turn.turn.beat = {whole(json.at("beat"), 1, quarter.count * 8)};
  const auto kind = answer_kind_named(json.at("kind").get<std::string>());
  if (!kind || turn.turn.answer < turn.turn.call || turn.turn.end < turn.turn.answer)
    return std::nullopt;
  turn.kind = *kind;
  turn.call = phrase_from(json.at("call"));
  turn.asked = phrase_from(json.at("asked"));
  return turn;
} catch (const std::exception&) { // of another shape, or out of range
  return std::nullopt;
}

Json verdict_json(const practice::TradeTurn& turn, const practice::TurnVerdict& verdict) {
  const auto& match = verdict.match;
  Json notes = Json::array(), extra = Json::array();
  const auto asked = practice::asked_notes(turn);
  for (std::size_t i = 0; i < asked.size() && i < match.notes.size(); ++i)
    notes.push_back(json_of(asked[i], match.notes[i], verdict));
  for (const auto index : match.extras)
    extra.push_back(verdict.answer[index].midi);
  return {{"turn", turn.turn.number + 1},
          {"kind", name_of(turn.kind)},
          {"answered", verdict.answered},
          {"matched", match.count(ear::Fate::matched)},
          {"wrong", match.count(ear::Fate::wrong)},
          {"missing", match.count(ear::Fate::missing)},
          {"behind", match.behind()},
          {"ahead", match.ahead()},
          {"delay_ms", rounded(match.delay_ms)},
          {"landed", verdict.landings.landed},
          {"words", verdict.words},
          {"notes", notes},
          {"extra", extra}};
}

} // namespace landfall::app
