#include "app/command_line.hpp"
#include "theory/chord.hpp"
#include "theory/scale.hpp"
#include "theory/words.hpp"

#include <nlohmann/json.hpp>

#include <iomanip>
#include <iostream>

namespace landfall::app {
namespace {

using Json = nlohmann::ordered_json;

struct Spelled {
  std::string name, kind, root;
  std::vector<std::string> notes, degrees;
  std::optional<std::string> bass;
};

template <typename List> std::vector<std::string> texts(const List& list) {
  std::vector<std::string> made;
  for (const auto& item : list)
    made.push_back(ascii(item));
  return made;
}

Spelled of_chord(const std::string& name, const theory::Chord& chord) {
  Spelled spelled{name, "chord", ascii(chord.root), texts(notes(chord)), texts(chord.degrees), {}};
  if (chord.bass)
    spelled.bass = ascii(*chord.bass);
  return spelled;
}

Spelled of_scale(const std::string& name, const theory::RootedScale& scale) {
  const auto& degrees = scale.scale->degrees;
  return {name,           "scale", ascii(scale.root), texts(notes_at(scale.root, degrees)),
          texts(degrees), {}};
}

Result<Spelled> spell(const std::string& name) {
  const auto chord = theory::parse_chord(name);
  if (chord)
    return of_chord(name, *chord);
  const auto scale = theory::parse_rooted_scale(name);
  if (scale)
    return of_scale(name, *scale);
  return name.find(' ') == std::string::npos ? chord.error() : scale.error();
}

void print_json(std::ostream& out, const Spelled& s) {
  const Json bass = s.bass ? Json(*s.bass) : Json(nullptr);
  out << Json{{"name", s.name},   {"kind", s.kind},       {"root", s.root},
              {"notes", s.notes}, {"degrees", s.degrees}, {"bass", bass}}
      << '\n';
}

std::string line_of(const std::vector<std::string>& items) {
  std::string line;
  for (const auto& item : items)
    line += (line.empty() ? "" : " ") + item;
  return line;
}

void print_text(std::ostream& out, const Spelled& s) {
  out << std::left << std::setw(20) << s.name << ' ' << std::setw(26) << line_of(s.notes) << ' '
      << line_of(s.degrees) << (s.bass ? "  bass " + *s.bass : "") << '\n';
}

class Speller {
public:
  Speller(bool json, const Streams& streams) : json_(json), streams_(streams) {}

  void take(std::string_view text) {
    const std::string name(trimmed(text));
    if (const auto spelled = spell(name))
      json_ ? print_json(streams_.out, *spelled) : print_text(streams_.out, *spelled);
    else
      report(name, spelled.error());
  }

  int exit() const { return failed_ ? exit_failure : exit_ok; }

private:
  void report(const std::string& name, const TextError& error) {
    failed_ = true;
    const auto reason = "column " + std::to_string(error.column) + ": " + error.reason;
    if (json_)
      streams_.out << Json{{"name", name}, {"error", reason}}.dump(-1, ' ', false,
                                                                   Json::error_handler_t::replace)
                   << '\n';
    else
      complain(streams_, "'" + name + "', " + reason);
  }

  bool json_;
  Streams streams_;
  bool failed_ = false;
};

} // namespace

int run_spell(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Spells chords and scales: their notes and degrees.", "landfall spell"};
  std::vector<std::string> names;
  bool json = false;
  app.option("NAME", names,
             "Chords (Cm7b5) and scales (\"F# dorian\"); without any, a line each from "
             "standard input");
  app.flag("--json", json, "One JSON line for each name");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  Speller speller(json, streams);
  for (const auto& name : names)
    speller.take(name);
  for (std::string line; names.empty() && std::getline(streams.in, line);)
    if (!trimmed(line).empty())
      speller.take(line);
  return speller.exit();
}

} // namespace landfall::app
