#include "app/command_line.hpp"
#include "app/control_actions.hpp"
#include "app/data.hpp"
#include "app/library.hpp"
#include "app/neck_json.hpp"
#include "app/own_sets.hpp"
#include "midi/control_file.hpp"
#include "practice/lesson.hpp"
#include "practice/set_list.hpp"
#include "song/header.hpp"
#include "song/musicxml.hpp"
#include "trade/density.hpp"
#include "trade/phrase_file.hpp"

#include <algorithm>
#include <array>
#include <iostream>
#include <sstream>

namespace landfall::app {
namespace {

using song::Diagnostic;
using song::Severity;

std::vector<Diagnostic> as_list(const TextError& error) {
  return {{Severity::error, {error.line, error.column}, error.reason}};
}

template <typename T> std::vector<Diagnostic> errors_of(const Result<T>& result) {
  return result ? std::vector<Diagnostic>{} : as_list(result.error());
}

/// Feels that are named in a song and not there: the band would play plainly.
void look_for_feels(const std::string& text, std::vector<Diagnostic>& diagnostics) {
  std::vector<std::string> ignored;
  const auto feels = FeelFolder::load(ignored);
  std::istringstream lines(text);
  int number = 0;
  for (std::string line; std::getline(lines, line);) {
    ++number;
    const auto colon = line.find(':');
    if (colon == std::string::npos ||
        song::header_named(song::trimmed(std::string_view(line).substr(0, colon))) !=
            song::Header::feel)
      continue;
    const auto value = std::string_view(line).substr(colon + 1);
    const auto name = song::trimmed(value.substr(0, value.find(" #")));
    const auto feel = song::parse_feel_name(name);
    if (feel && !feels->has(*feel))
      diagnostics.push_back({Severity::warning,
                             {number, static_cast<int>(name.data() - line.data()) + 1},
                             "there is no feel '" + *feel + "'; the band would play plainly"});
  }
}

std::vector<Diagnostic> check_song(const std::string& text) {
  auto read = song::read_song(text);
  if (read.song)
    look_for_feels(text, read.diagnostics);
  std::stable_sort(read.diagnostics.begin(), read.diagnostics.end(),
                   [](const Diagnostic& a, const Diagnostic& b) { return a.at.line < b.at.line; });
  return std::move(read.diagnostics);
}

/// Songs and instruments that a lesson names must be there.
std::vector<Diagnostic> check_lesson(const std::string& text) {
  const auto lesson = practice::read_lesson(text, own_sets());
  if (!lesson)
    return as_list(lesson.error());
  std::vector<Diagnostic> found;
  if (!lesson->instrument.empty())
    if (const auto instrument = load_instrument(lesson->instrument); !instrument)
      found.push_back({Severity::warning, {1, 1}, instrument.error()});
  std::istringstream nothing;
  for (const auto& scene : lesson->scenes)
    if (!scene.song.empty())
      if (const auto song = load_song(scene.song, nothing); !song)
        found.push_back({Severity::error, {scene.line, 1}, song.error()});
  return found;
}

/// What can be checked, by the end of its file's name.
struct Checker {
  const char* ending;
  std::vector<Diagnostic> (*check)(const std::string& text);
};

constexpr std::array checkers{
    Checker{".song", check_song},
    Checker{".feel", [](const std::string& text) { return errors_of(band::parse_feel(text)); }},
    Checker{".instrument",
            [](const std::string& text) { return errors_of(neck::parse_instrument(text)); }},
    Checker{".density",
            [](const std::string& text) { return errors_of(trade::parse_density(text)); }},
    Checker{".phrase", [](const std::string& text) { return errors_of(trade::read_phrase(text)); }},
    Checker{".lesson", check_lesson},
    Checker{".musicxml",
            [](const std::string& text) { return song::import_musicxml(text).diagnostics; }},
    Checker{".setlist",
            [](const std::string& text) { return errors_of(practice::read_set_list(text)); }},
    Checker{".controls",
            [](const std::string& text) {
              return errors_of(midi::parse_controls(text, control_actions()));
            }},
};

std::string endings() {
  std::string list;
  for (const auto& checker : checkers)
    list += (list.empty() ? "" : ", ") + std::string(checker.ending);
  return list;
}

std::vector<Diagnostic> diagnose(const std::filesystem::path& path) {
  const auto ending = path.extension();
  const auto file = read_file(path);
  if (!file.error.empty())
    return as_list({file.error});
  for (const auto& checker : checkers)
    if (ending == checker.ending)
      return checker.check(file.text);
  return as_list({"expected a file that ends in one of " + endings()});
}

const char* name_of(Severity severity) {
  return severity == Severity::error ? "error" : "warning";
}

void print(std::ostream& out, bool json, const std::string& file, const Diagnostic& diagnostic) {
  const auto& [severity, at, message] = diagnostic;
  if (json)
    out << Json{{"file", file},
                {"line", at.line},
                {"column", at.column},
                {"severity", name_of(severity)},
                {"message", message}}
               .dump(-1, ' ', false, Json::error_handler_t::replace)
        << '\n';
  else
    out << file << ':' << at.line << ':' << at.column << ": " << name_of(severity) << ": "
        << message << '\n';
}

} // namespace

int run_check(const Arguments& arguments, const Streams& streams) {
  CommandLine app{
      "Checks files: songs, set lists, feels, instruments, densities, lessons, phrases.",
      "landfall check"};
  std::vector<std::string> files;
  bool json = false;
  app.option("FILE", files, "Files to check").required().file();
  app.flag("--json", json, "One JSON line for each finding");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  bool failed = false;
  for (const auto& file : files)
    for (const auto& diagnostic : diagnose(file)) {
      failed = failed || diagnostic.severity == Severity::error;
      print(json ? streams.out : streams.err, json, file, diagnostic);
    }
  return failed ? exit_failure : exit_ok;
}

} // namespace landfall::app
