#include "app/setup.hpp"

namespace landfall::app {

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

std::shared_ptr<const FeelFolder> load_feels(const Streams& streams) {
  std::vector<std::string> problems;
  auto feels = FeelFolder::load(problems);
  for (const auto& problem : problems)
    complain(streams, problem);
  return feels;
}

} // namespace landfall::app
