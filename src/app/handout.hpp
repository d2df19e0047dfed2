#pragma once

#include "app/music_options.hpp"
#include "app/sheet_phrase.hpp"
#include "app/sheet_scenes.hpp"

#include <filesystem>

namespace landfall::app {

/// How handouts are to be made.
struct HandoutWishes {
  MusicOptions music;
  sheet::Paper paper;
  std::optional<sheet::Diagrams> diagrams; ///< In place of the usual ones and of a scene's.
  bool labels_given = false;               ///< Whether music.labels stands over a scene's.
  bool left_handed = false;
  neck::Instrument instrument;                  ///< With left_handed in it.
  const render::TextMetrics* metrics = nullptr; ///< Never null.
};

/// The instrument that is asked for, on the side that is asked for. Throws UsageError.
neck::Instrument handout_instrument(const MusicOptions& music, bool left_handed);

/// The lesson's own instrument, unless one is asked for. Throws UsageError.
neck::Instrument lesson_instrument(const practice::Lesson& lesson, const HandoutWishes& wishes);

using Handout = Result<sheet::Sheet, std::string>;

/// Of a song, in the key and at the tempo that are asked for or its own. Throws UsageError.
sheet::Sheet song_handout(const song::Song& song, const HandoutWishes& wishes);

/// Of a lesson. The error is one line about a scene's song.
Handout lesson_handout(const practice::Lesson& lesson, const HandoutWishes& wishes);

/// Of a phrase, as tablature. The error is one line: what does not fit the instrument, which has
/// strings. Throws UsageError.
Handout phrase_handout(const trade::KeptPhrase& kept, const HandoutWishes& wishes);

/// Whether a song's file has this name.
bool is_song_name(const std::string& name);

/// The lesson that is meant: a path, or an own or shipped one by its file name; empty if it is
/// none.
std::filesystem::path lesson_path(const std::string& name);

} // namespace landfall::app
