#include "app/review_json.hpp"

#include "app/neck_json.hpp"
#include "app/trade_json.hpp"

#include <array>
#include <cmath>

namespace landfall::app {

const char* name_of(ear::Verdict verdict) {
  constexpr std::array names{"landed", "late", "off", "rest"};
  return names[static_cast<std::size_t>(verdict)];
}

const char* name_of(ear::Approach approach) {
  constexpr std::array names{"step", "half step", "common tone", "leap", "enclosure"};
  return names[static_cast<std::size_t>(approach)];
}

const char* name_of(ear::NoteClass note_class) {
  constexpr std::array names{"landing", "set", "approach", "outside"};
  return names[static_cast<std::size_t>(note_class)];
}

namespace {

double rounded(double value, double unit) {
  return std::round(value / unit) * unit;
}

/// Seconds from the first bar.
double seconds(const song::TempoMap& tempo, Ticks tick) {
  return rounded(std::chrono::duration<double>(tempo.time_at(tick)).count(), 1e-6);
}

Json json_of(const ear::JudgedChange& change, const song::TempoMap& tempo) {
  Json json{{"chorus", change.chorus + 1},
            {"bar", change.bar},
            {"beat", change.beat},
            {"chord", ascii(change.chord)},
            {"verdict", name_of(change.verdict)}};
  json["degree"] = change.degree ? Json(ascii(*change.degree)) : Json(nullptr);
  json["approach"] = change.approach ? Json(name_of(*change.approach)) : Json(nullptr);
  json["midi"] = change.midi ? Json(*change.midi) : Json(nullptr);
  json["time"] = seconds(tempo, change.arrived.value_or(change.at));
  json["in_set"] = change.in_set;
  json["in_position"] = change.in_position;
  return json;
}

Json json_of(const ear::JudgedNote& note, const song::TempoMap& tempo) {
  Json json{{"time", seconds(tempo, note.at)},
            {"midi", note.midi},
            {"cents", rounded(note.cents, 0.1)},
            {"class", name_of(note.note_class)}};
  json["deviation_ms"] =
      note.deviation_ms ? Json(rounded(*note.deviation_ms, 0.01)) : Json(nullptr);
  json["in_position"] = note.in_position ? Json(*note.in_position) : Json(nullptr);
  return json;
}

Json number_or_null(const std::optional<double>& value, double unit) {
  return value ? Json(rounded(*value, unit)) : Json(nullptr);
}

Json json_of(const ear::Summary& summary) {
  Json degrees = Json::object();
  for (const auto& [number, count] : summary.by_degree)
    degrees[std::to_string(number)] = {{"landed", count.landed}, {"late", count.late}};
  Json json{{"changes", summary.changes},
            {"landed", summary.landed},
            {"late", summary.late},
            {"off", summary.off},
            {"rest", summary.rest}};
  json["landing_rate"] = number_or_null(summary.landing_rate(), 1e-4);
  json["by_degree"] = degrees;
  json["deviation_mean_ms"] = number_or_null(summary.deviation_mean_ms, 0.01);
  json["deviation_sd_ms"] = number_or_null(summary.deviation_sd_ms, 0.01);
  return json;
}

} // namespace

song::TempoMap take_tempo(const practice::Timeline& timeline) {
  song::TempoMap tempo(timeline.tempo_at({}));
  for (const auto& [at, each] : timeline.tempi)
    if (at > Ticks{})
      tempo.change(at, each);
  return tempo;
}

nlohmann::ordered_json review_json(const ear::Judgement& judgement, const song::TempoMap& tempo) {
  Json changes = Json::array(), notes = Json::array();
  for (const auto& change : judgement.changes)
    changes.push_back(json_of(change, tempo));
  for (const auto& note : judgement.notes)
    notes.push_back(json_of(note, tempo));
  return {{"changes", changes}, {"notes", notes}, {"summary", json_of(judgement.summary)}};
}

nlohmann::ordered_json review_json(const Reviewed& reviewed, const song::TempoMap& tempo) {
  auto json = review_json(reviewed.judgement, tempo);
  for (const auto& [turn, verdict] : reviewed.trade)
    json["trade"].push_back(verdict_json(turn, verdict));
  return json;
}

} // namespace landfall::app
