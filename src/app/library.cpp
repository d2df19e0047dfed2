#include "app/library.hpp"

#include "app/data.hpp"
#include "song/musicxml.hpp"
#include "theory/words.hpp"

#include <algorithm>
#include <iostream>
#include <iterator>

namespace landfall::app {
namespace fs = std::filesystem;
namespace {

constexpr std::size_t longest_input = 16U << 20U;

std::string read_all(std::istream& input) {
  std::string text;
  char block[65536];
  while (text.size() <= longest_input && (input.read(block, sizeof block), input.gcount() > 0))
    text.append(block, static_cast<std::size_t>(input.gcount()));
  return text;
}

/// A named file, or the first of this name in the songs folders; empty if there is none.
fs::path find_song(const std::string& name) {
  std::error_code ignored;
  if (fs::exists(name, ignored))
    return name;
  const bool plain = name.find('/') == std::string::npos;
  for (const auto& folder : song_folders())
    if (const auto path = folder / (name + ".song"); plain && fs::exists(path, ignored))
      return path;
  return {};
}

bool is_musicxml(const std::string& name) {
  const auto ending = lower_case(fs::path(name).extension().string());
  return ending == ".musicxml" || ending == ".xml";
}

Result<LoadedSong, std::string> from_musicxml(const std::string& name, const std::string& text) {
  auto imported = song::import_musicxml(text);
  if (imported.song)
    return LoadedSong{std::make_shared<const song::Song>(std::move(*imported.song)), name};
  for (const auto& each : imported.diagnostics)
    if (each.severity == song::Severity::error)
      return located(name, {each.message, each.at.column, each.at.line});
  return name + ": no song came of it";
}

Result<LoadedSong, std::string> from_text(const std::string& name, const std::string& text) {
  if (is_musicxml(name))
    return from_musicxml(name, text);
  auto song = song::parse_song(text);
  if (!song)
    return located(name, song.error());
  return LoadedSong{std::make_shared<const song::Song>(std::move(*song)), name};
}

std::vector<fs::path> folders(const char* under) {
  std::vector<fs::path> found{user_data_folder() / under};
  if (!songs_folder().empty())
    found.push_back(songs_folder() / (std::string(under) == "songs" ? "" : under));
  return found;
}

} // namespace

std::string located(const std::string& file, const TextError& error) {
  return file + ":" + std::to_string(error.line) + ":" + std::to_string(error.column) + ": " +
         error.reason;
}

std::vector<fs::path> song_folders() {
  return folders("songs");
}

std::vector<fs::path> song_files() {
  std::vector<fs::path> files;
  for (const auto& folder : song_folders())
    for (const auto& file : files_in(folder, ".song"))
      files.push_back(file);
  std::stable_sort(files.begin(), files.end(),
                   [](const auto& a, const auto& b) { return a.stem() < b.stem(); });
  const auto same_name = [](const auto& a, const auto& b) { return a.stem() == b.stem(); };
  files.erase(std::unique(files.begin(), files.end(), same_name), files.end());
  return files;
}

Result<LoadedSong, std::string> load_song(const std::string& name, std::istream& input) {
  if (name == "-")
    return from_text("standard input", read_all(input));
  const auto path = find_song(name);
  if (path.empty() && name.find('|') != std::string::npos) {
    auto song = song::parse_progression(name);
    if (!song)
      return located("progression", song.error());
    return LoadedSong{std::make_shared<const song::Song>(std::move(*song)), name};
  }
  if (path.empty())
    return "'" + name +
           "' is neither a file nor the name of a song; a progression is written with bars: "
           "\"A | D | E | A\"";
  const auto file = read_file(path, longest_input);
  if (!file.error.empty())
    return path.string() + ": " + file.error;
  return from_text(path.string(), file.text);
}

std::shared_ptr<const FeelFolder> FeelFolder::load(std::vector<std::string>& problems) {
  auto book = std::make_shared<FeelFolder>();
  for (const auto& folder : folders("feels"))
    for (const auto& path : files_in(folder, ".feel")) {
      const auto file = read_file(path);
      auto feel = band::parse_feel(file.text);
      if (!file.error.empty())
        problems.push_back(path.string() + ": " + file.error);
      else if (!feel)
        problems.push_back(located(path.string(), feel.error()));
      else if (feel->name = path.stem().string(); !book->has(feel->name))
        book->feels_.push_back(std::move(*feel));
    }
  return book;
}

const band::Feel* FeelFolder::find(std::string_view name) const {
  for (const auto& feel : feels_)
    if (feel.name == name)
      return &feel;
  return &band::plain_feel();
}

bool FeelFolder::has(std::string_view name) const {
  return std::any_of(feels_.begin(), feels_.end(),
                     [&](const band::Feel& feel) { return feel.name == name; });
}

std::vector<std::string> FeelFolder::names() const {
  std::vector<std::string> all;
  for (const auto& feel : feels_)
    all.push_back(feel.name);
  std::sort(all.begin(), all.end());
  return all;
}

namespace {

std::vector<fs::path> instrument_files() {
  std::vector<fs::path> files;
  for (const auto& folder : folders("instruments"))
    for (const auto& file : files_in(folder, ".instrument"))
      files.push_back(file);
  return files;
}

} // namespace

Result<neck::Instrument, std::string> load_instrument(const std::string& name) {
  const auto wanted = lower_case(name);
  std::string problem;
  for (const auto& path : instrument_files()) {
    const auto file = read_file(path);
    const auto instrument = neck::parse_instrument(file.text);
    const bool asked = lower_case(path.stem().string()) == wanted;
    if (instrument && (asked || lower_case(instrument->name) == wanted))
      return *instrument;
    if (asked)
      return file.error.empty() ? located(path.string(), instrument.error())
                                : path.string() + ": " + file.error;
  }
  for (const auto& built_in : {neck::standard_guitar(), neck::standard_keyboard()})
    if (lower_case(built_in.name) == wanted)
      return built_in;
  std::string known;
  for (const auto& each : instrument_names())
    known += (known.empty() ? "" : ", ") + each;
  return "there is no instrument '" + name + "'; there are " + known;
}

std::vector<std::string> instrument_names() {
  std::vector<std::string> names;
  for (const auto& path : instrument_files())
    names.push_back(path.stem().string());
  if (names.empty())
    names = {neck::standard_guitar().name, neck::standard_keyboard().name};
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
}

} // namespace landfall::app
