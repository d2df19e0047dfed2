#include "app/phrase_files.hpp"

#include "app/data.hpp"
#include "app/library.hpp"
#include "app/phrase_midi.hpp"
#include "theory/words.hpp"

#include <algorithm>
#include <array>

namespace landfall::app {
namespace {

namespace fs = std::filesystem;

constexpr const char* ending = ".phrase";

fs::path own_folder() {
  return user_data_folder() / "phrases";
}

std::array<fs::path, 2> folders() {
  return {own_folder(), songs_folder() / "phrases"};
}

constexpr std::array endings{ending, ".mid", ".midi"};

using Loaded = Result<trade::KeptPhrase, std::string>;

Loaded from_midi(const fs::path& path, const std::string& bytes, std::optional<theory::Key> key,
                 const std::string& over) {
  const auto* first = reinterpret_cast<const std::uint8_t*>(bytes.data());
  const auto file = midi::smf::read({first, bytes.size()});
  if (!file)
    return path.string() + ": byte " + std::to_string(file.error().offset) + ": " +
           file.error().reason;
  auto kept = phrase_from_midi(*file, {path.stem().string(), key, over});
  return kept ? std::move(kept) : Loaded(path.string() + ": " + kept.error());
}

Loaded read(const fs::path& path, std::optional<theory::Key> key = {},
            const std::string& over = {}) {
  const auto file = read_file(path);
  if (!file.error.empty())
    return path.string() + ": " + file.error;
  if (is_midi_file(path))
    return from_midi(path, file.text, key, over);
  auto kept = trade::read_phrase(file.text);
  if (!kept)
    return located(path.string(), kept.error());
  return *std::move(kept);
}

/// Whether any phrase, own or shipped, has the file name.
bool is_taken(const std::string& name) {
  return std::ranges::any_of(folders(), [&](const fs::path& folder) {
    std::error_code ignored;
    return std::ranges::any_of(
        endings, [&](const char* each) { return fs::exists(folder / (name + each), ignored); });
  });
}

/// Own ones first, phrase files first of those.
std::vector<fs::path> all_files() {
  std::vector<fs::path> all;
  for (const auto& folder : folders())
    for (const auto* each : endings)
      std::ranges::move(files_in(folder, each), std::back_inserter(all));
  return all;
}

} // namespace

bool is_midi_file(const fs::path& path) {
  const auto kind = lower_case(path.extension().string());
  return kind == ".mid" || kind == ".midi";
}

std::vector<PhraseFile> phrase_files(std::vector<std::string>& problems) {
  std::vector<PhraseFile> all;
  for (const auto& path : all_files()) {
    const auto name = path.stem().string();
    if (std::ranges::any_of(all, [&](const PhraseFile& file) { return file.name == name; }))
      continue;
    if (auto kept = read(path))
      all.push_back({name, path, *std::move(kept)});
    else
      problems.push_back(kept.error());
  }
  std::ranges::sort(all, {}, &PhraseFile::name);
  return all;
}

Result<trade::KeptPhrase, std::string>
load_phrase(const std::string& name, std::optional<theory::Key> key, const std::string& over) {
  if (name.ends_with(ending) || is_midi_file(name) || name.find('/') != std::string::npos)
    return read(name, key, over);
  for (const auto& folder : folders())
    for (const auto* each : endings) {
      std::error_code ignored;
      if (const auto path = folder / (name + each); fs::exists(path, ignored))
        return read(path, key, over);
    }
  return "there is no phrase '" + name + "'; `landfall phrase` lists them";
}

bool can_be_kept(const trade::Phrase& phrase) {
  return !phrase.notes.empty() && !phrase.chords.empty() &&
         phrase.bars <= trade::most_phrase_bars &&
         phrase.length == song::bar_length(phrase.meter) * phrase.bars;
}

Result<fs::path, std::string> keep_phrase(trade::KeptPhrase kept) {
  const auto plain = kept.name;
  auto name = hyphenated_name(plain, "phrase");
  for (int number = 2; is_taken(name); ++number) {
    kept.name = plain + " " + std::to_string(number);
    name = hyphenated_name(kept.name, "phrase");
  }
  const auto path = own_folder() / (name + ending);
  std::error_code failed;
  fs::create_directories(own_folder(), failed);
  if (failed)
    return own_folder().string() + ": " + failed.message();
  if (const auto reason = write_file(path, trade::phrase_text(kept)); !reason.empty())
    return path.string() + ": " + reason;
  return path;
}

} // namespace landfall::app
