#include "app/command_line.hpp"
#include "app/data.hpp"
#include "app/music_options.hpp"
#include "app/phrase_files.hpp"
#include "app/phrase_midi.hpp"
#include "app/phrase_musicxml.hpp"
#include "neck/instrument.hpp"
#include "theory/words.hpp"

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

struct PhraseOptions {
  std::string name, tag, output, key, over, new_name, new_tags;
  int tempo = 100;
  bool json = false, force = false;
};

std::optional<theory::Key> key_of(const PhraseOptions& options) {
  if (options.key.empty())
    return std::nullopt;
  const auto key = theory::parse_key(options.key);
  if (!key)
    throw UsageError{"--key: " + key.error().reason};
  return *key;
}

bool is_score(const std::string& path) {
  return path.ends_with(".musicxml");
}

/// With stops on a guitar where the phrase fits one.
std::string score_of(const trade::KeptPhrase& kept, const PhraseOptions& options) {
  const neck::Fretboard board(neck::standard_guitar());
  auto fingering = sheet::fingering_of(kept.phrase, board, std::nullopt, 5);
  return musicxml_of(kept, fingering ? fingering->stops : std::vector<sheet::Stop>{},
                     tempo_from_bpm(options.tempo));
}

std::string bytes_of(const trade::KeptPhrase& kept, const PhraseOptions& options) {
  if (is_score(options.output))
    return score_of(kept, options);
  if (!is_midi_file(options.output))
    return trade::phrase_text(kept);
  const auto bytes = midi::smf::write(midi_of(kept, tempo_from_bpm(options.tempo)));
  return {bytes.begin(), bytes.end()};
}

std::vector<std::string> tags_of(std::string_view text) {
  std::vector<std::string> tags;
  while (!text.empty()) {
    const auto end = std::min(text.find(','), text.size());
    if (const auto tag = trimmed(text.substr(0, end)); !tag.empty())
      tags.emplace_back(tag);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return tags;
}

void rename(trade::KeptPhrase& kept, const PhraseOptions& options) {
  if (!options.new_name.empty())
    kept.name = options.new_name;
  if (!options.new_tags.empty())
    kept.tags = tags_of(options.new_tags);
}

/// A text that a line of a phrase file can hold, so that it is read again as it is.
void check_line(const char* option, const std::string& text) {
  const bool controls = std::ranges::any_of(
      text, [](char c) { return static_cast<unsigned char>(c) < ' ' || c == 127; });
  if (controls || (!text.empty() && trimmed(text) != text) || text.size() > 200)
    throw UsageError{std::string(option) +
                     ": expected one line of at most 200 bytes, without blanks around it"};
}

int write(const trade::KeptPhrase& kept, const PhraseOptions& options, const Streams& streams) {
  std::error_code ignored;
  const auto& path = options.output;
  const auto bytes = bytes_of(kept, options);
  if (bytes.empty())
    return complain(streams, no_pugixml), exit_failure;
  auto reason = !options.force && std::filesystem::exists(path, ignored)
                    ? std::string("is there already; --force writes over it")
                    : write_file(path, bytes);
  if (!reason.empty())
    return complain(streams, path + ": " + reason), exit_failure;
  return exit_ok;
}

void check_usage(const PhraseOptions& options) {
  const bool listing = options.name.empty();
  if (!listing && !options.tag.empty())
    throw UsageError{"--tag: expected no PHRASE beside it"};
  if (listing && !options.output.empty())
    throw UsageError{"--output: expected a PHRASE beside it"};
  if (listing && (!options.new_name.empty() || !options.new_tags.empty()))
    throw UsageError{"--name, --tags: expected a PHRASE beside them"};
  check_line("--name", options.new_name);
  check_line("--tags", options.new_tags);
  if (!options.output.empty() && !is_midi_file(options.output) && !is_score(options.output) &&
      !options.output.ends_with(".phrase"))
    throw UsageError{"--output: expected a file that ends in .mid, .musicxml or .phrase, not '" +
                     options.output + "'"};
  if ((!options.key.empty() || !options.over.empty()) && !is_midi_file(options.name))
    throw UsageError{"--key, --over: expected a MIDI file beside them; a phrase file has its own"};
}

int show(const PhraseOptions& options, const Streams& streams) {
  check_usage(options);
  if (options.name.empty())
    return list(options.tag, options.json, streams);
  auto kept = load_phrase(options.name, key_of(options), options.over);
  if (!kept)
    return complain(streams, kept.error()), exit_failure;
  rename(*kept, options);
  if (!options.output.empty())
    return write(*kept, options, streams);
  if (options.json)
    print(streams.out, json_of(*kept));
  else
    streams.out << trade::phrase_text(*kept);
  return exit_ok;
}

} // namespace

int run_phrase(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Lists the phrases that are kept, shows one, or writes it to a file.",
                  "landfall phrase"};
  PhraseOptions options;
  app.option("PHRASE", options.name, "Its name in the list, or the path of a .phrase or .mid")
      .names("phrases", true);
  app.option("--tag", options.tag, "Lists only those with this tag");
  app.option("-o,--output", options.output, "FILE.mid, FILE.musicxml or FILE.phrase").file();
  app.option("--tempo", options.tempo, "Of a MIDI file or score, quarter notes a minute")
      .range(static_cast<int>(min_bpm), static_cast<int>(max_bpm))
      .show_default();
  app.option("--key", options.key, "Of a MIDI file that is read: A, F#, Ebm");
  app.option("--over", options.over, "Its chords: \"| Am7 | D7 G7 |\"; else its markers");
  app.option("--name", options.new_name, "In place of the phrase's name");
  app.option("--tags", options.new_tags, "In place of its tags: \"blues, bend\"");
  app.flag("--force", options.force, "Write over a file that is there");
  app.flag("--json", options.json, "One JSON line for each");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&] { return show(options, streams); });
}

} // namespace landfall::app
