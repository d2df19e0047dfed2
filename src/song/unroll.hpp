#pragma once

#include "song/form.hpp"
#include "song/song.hpp"

namespace landfall::song {

/// One chorus of the song with its tonic moved to that of `key`; the song stays major or minor as
/// it is, whatever `key` says. Keys within the song move along. In the song's own key all spelling
/// stays as written. A chord is fresh where its symbol differs from the one before, at the top, and
/// after N.C.
Form unroll(const Song& song, const theory::Key& key);

/// In the song's own key.
Form unroll(const Song& song);

} // namespace landfall::song
