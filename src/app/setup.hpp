#pragma once

#include "app/library.hpp"
#include "app/music_options.hpp"
#include "practice/session.hpp"

namespace landfall::app {

/// The note set that a song opens with: major pentatonic over major chords, minor pentatonic over
/// minor ones, and so on.
inline constexpr const char* usual_set = "fitting";

/// A session for a song with the options applied to it. Throws UsageError for a wrong option.
practice::Session::Setup setup_for(const LoadedSong& song, std::shared_ptr<const FeelFolder> feels,
                                   const MusicOptions& options);

/// The feels, with a line on standard error for each that cannot be read.
std::shared_ptr<const FeelFolder> load_feels(const Streams& streams);

} // namespace landfall::app
