#include "app/setup.hpp"

#include "song/unroll.hpp"

#include <filesystem>
#include <set>

namespace landfall::app {
namespace {

/// One option from what was left, if it was not given and can be read; else its name in `gone`.
template <typename Read>
void take_over(MusicOptions& music, std::string MusicOptions::*option, const std::string& left,
               std::string& gone, Read read) {
  if (!(music.*option).empty() || left.empty())
    return;
  MusicOptions trial;
  trial.*option = left;
  try {
    static_cast<void>(read(trial));
    music.*option = left;
  } catch (const UsageError&) {
    gone += (gone.empty() ? "'" : ", '") + left + "'";
  }
}

/// An instrument that was asked for comes as it is; a tuning alone, on the one that was left.
void fill_in_instrument(MusicOptions& music, const InstrumentChoice& left, std::string& gone) {
  const bool asked = !music.instrument.empty() || !music.tuning.empty() || music.capo;
  take_over(music, &MusicOptions::instrument, left.name, gone, instrument_of);
  if (asked || music.instrument != left.name)
    return;
  auto trial = music;
  trial.tuning = left.tuning;
  trial.capo = left.capo;
  try {
    static_cast<void>(instrument_of(trial));
    music = trial;
  } catch (const UsageError&) {
    gone += (gone.empty() ? "'" : ", '") + left.tuning + "'";
  }
}

} // namespace

practice::Session::Setup setup_for(const LoadedSong& song, std::shared_ptr<const FeelFolder> feels,
                                   const MusicOptions& options) {
  practice::Session::Setup setup;
  auto& choice = setup.choice;
  choice.key = key_of(options, song.song->key);
  choice.key.minor = song.song->key.minor;
  choice.place = place_of(options);
  choice.set = set_of(options, usual_set);
  choice.over = over_of(options, choice.set);
  choice.target = target_of(options);
  choice.tempo = song.song->tempo;
  if (const auto beats = tempo_of(options))
    choice.tempo = song::tempo_from_beats(*beats, song.song->meter);
  if (!options.feel.empty() && !feels->has(options.feel))
    throw UsageError{"--feel: there is no feel '" + options.feel + "'"};
  choice.feel = options.feel;
  setup.song = song.song;
  setup.feels = std::move(feels);
  setup.seed = options.seed;
  return setup;
}

std::string fill_in(MusicOptions& music, const Settings& left, bool same_song) {
  std::string gone;
  const auto take = [&](std::string MusicOptions::*option, const std::string& text, auto read) {
    take_over(music, option, text, gone, read);
  };
  if (same_song)
    take(&MusicOptions::key, left.key, [](const auto& trial) { return key_of(trial, {}); });
  if (same_song && left.beats_per_minute > 0)
    take(&MusicOptions::tempo, std::to_string(left.beats_per_minute), tempo_of);
  if (!music.position && music.shape.empty()) {
    take(&MusicOptions::shape, left.shape, place_of);
    music.position = left.position;
  }
  if (music.set.empty()) {
    take(&MusicOptions::set, left.set, [](const auto& trial) { return set_of(trial, usual_set); });
    if (!music.set.empty())
      take(&MusicOptions::over, left.over,
           [](const auto& trial) { return over_of(trial, set_of(trial, usual_set)); });
  }
  take(&MusicOptions::target, left.target, target_of);
  fill_in_instrument(music, left.instrument, gone);
  return gone.empty() ? "" : "not to be had any more: " + gone;
}

std::string lasting_name(const std::string& song) {
  std::error_code error;
  if (song == "-")
    return "";
  if (!std::filesystem::exists(song, error))
    return song;
  const auto whole = std::filesystem::absolute(song, error);
  return error ? song : whole.lexically_normal().string();
}

std::string missing_feels(const song::Song& song, const std::vector<std::string>& feels) {
  std::set<std::string> missing;
  for (const auto& bar : unroll(song).bars)
    if (std::find(feels.begin(), feels.end(), bar.feel) == feels.end())
      missing.insert("'" + bar.feel + "'");
  std::string names;
  for (const auto& name : missing)
    names += (names.empty() ? "" : ", ") + name;
  return names.empty() ? "" : "there is no feel " + names + "; the band plays plainly instead";
}

std::string kept_mode(const song::Song& song, const MusicOptions& options) {
  if (options.key.empty())
    return "";
  const auto asked = key_of(options, song.key);
  if (asked.minor == song.key.minor)
    return "";
  const theory::Key played{asked.tonic, song.key.minor};
  return "the song is " + std::string(song.key.minor ? "minor" : "major") + ": it is played in " +
         ascii(played);
}

std::shared_ptr<const FeelFolder> load_feels(const Streams& streams) {
  std::vector<std::string> problems;
  auto feels = FeelFolder::load(problems);
  for (const auto& problem : problems)
    complain(streams, problem);
  return feels;
}

} // namespace landfall::app
