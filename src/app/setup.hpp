#pragma once

#include "app/library.hpp"
#include "app/music_options.hpp"
#include "app/settings.hpp"
#include "practice/session.hpp"

namespace landfall::app {

/// The note set that a song opens with: major pentatonic over major chords, minor pentatonic over
/// minor ones, and so on.
inline constexpr const char* usual_set = "fitting";

/// A session for a song with the options applied to it. Throws UsageError for a wrong option.
practice::Session::Setup setup_for(const LoadedSong& song, std::shared_ptr<const FeelFolder> feels,
                                   const MusicOptions& options);

/// What was not said on the command line is as it was left. Whatever of it cannot be had any more
/// (a note set or an instrument that was taken away) is as usual instead, and named in the answer:
/// a line for the player, or an empty text. Key and tempo belong to the song that was left open.
std::string fill_in(MusicOptions& music, const Settings& left, bool same_song);

/// How a song that was asked for is remembered: a file by its whole path, since the program may be
/// started elsewhere; standard input not at all ("").
std::string lasting_name(const std::string& song);

/// In one line, which feels a song names that are not there: the band plays plainly instead. Empty
/// if all are.
std::string missing_feels(const song::Song& song, const std::vector<std::string>& feels);

/// In one line, that a song stays minor or major whatever --key says; empty where it says the same.
std::string kept_mode(const song::Song& song, const MusicOptions& options);

/// The feels, with a line on standard error for each that cannot be read.
std::shared_ptr<const FeelFolder> load_feels(const Streams& streams);

} // namespace landfall::app
