#pragma once

#include "song/song.hpp"

namespace landfall::song {

/// The song in the format that read_song reads; it reads back as an equal song. Chords whose places
/// no division of a beat into at most 16 parts hits are moved to the nearest twelfth of a beat;
/// line breaks in the title and the like become blanks.
std::string as_text(const Song& song);

} // namespace landfall::song
