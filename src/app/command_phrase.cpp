#include "app/command_line.hpp"
#include "app/phrase_files.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <iomanip>
#include <iostream>

namespace landfall::app {
namespace {

using Json = nlohmann::ordered_json;

std::string line_of(const std::vector<std::string>& tags) {
  std::string line;
  for (const auto& tag : tags)
    line += (line.empty() ? "" : ", ") + tag;
  return line;
}

Json json_of(const trade::Phrase& phrase, const trade::PhraseNote& note) {
  const auto number = [](const std::optional<int>& value) {
    return value ? Json(*value) : Json(nullptr);
  };
  return {{"start", note.start.count},
          {"length", note.length.count},
          {"midi", note.midi.number},
          {"name", ascii(note.midi, theory::signature(phrase.key) < 0)},
          {"degree", ascii(note.degree)},
          {"string", number(note.string)},
          {"fret", number(note.fret)},
          {"bend_cents", note.bend_cents ? Json(*note.bend_cents) : Json(nullptr)}};
}

Json json_of(const trade::KeptPhrase& kept) {
  const auto& phrase = kept.phrase;
  Json chords = Json::array(), notes = Json::array();
  for (const auto& chord : phrase.chords)
    chords.push_back({{"at", chord.at.count},
                      {"chord", chord.chord ? Json(ascii(*chord.chord)) : Json(nullptr)}});
  for (const auto& note : phrase.notes)
    notes.push_back(json_of(phrase, note));
  return {{"name", kept.name},
          {"about", kept.about},
          {"tags", kept.tags},
          {"metre", std::to_string(phrase.meter.beats) + "/" + std::to_string(phrase.meter.unit)},
          {"key", ascii(phrase.key)},
          {"bars", phrase.bars},
          {"ticks_per_quarter", ticks_per_quarter},
          {"chords", chords},
          {"notes", notes}};
}

void print(std::ostream& out, const Json& json) {
  out << json.dump(-1, ' ', false, Json::error_handler_t::replace) << '\n';
}

int list(const std::string& tag, bool json, const Streams& streams) {
  std::vector<std::string> problems;
  for (const auto& file : phrase_files(problems)) {
    const auto& tags = file.kept.tags;
    if (!tag.empty() && std::ranges::find(tags, tag) == tags.end())
      continue;
    if (json)
      print(streams.out, {{"file", file.name}, {"name", file.kept.name}, {"tags", tags}});
    else
      streams.out << std::left << std::setw(26) << file.name << ' ' << line_of(tags) << '\n';
  }
  for (const auto& problem : problems)
    complain(streams, problem);
  return problems.empty() ? exit_ok : exit_failure;
}

} // namespace

int run_phrase(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Lists the phrases that are kept, or shows one.", "landfall phrase"};
  std::string name, tag;
  bool json = false;
  app.option("PHRASE", name, "One to be shown: its name in the list, or a path");
  const auto tagged = app.option("--tag", tag, "Lists only those with this tag");
  app.flag("--json", json, "One JSON line for each");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  if (name.empty())
    return list(tag, json, streams);
  if (tagged.given())
    return complain(streams, "--tag: expected no PHRASE beside it"), exit_usage;
  const auto kept = load_phrase(name);
  if (!kept)
    return complain(streams, kept.error()), exit_failure;
  if (json)
    print(streams.out, json_of(*kept));
  else
    streams.out << trade::phrase_text(*kept);
  return exit_ok;
}

} // namespace landfall::app
