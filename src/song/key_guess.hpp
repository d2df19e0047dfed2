#pragma once

#include "song/song.hpp"

#include <span>

namespace landfall::song {

/// The key in which these chords, in order, are most at home: how much of them its scale holds,
/// with weight on the first and last chord and on falling fifths to the tonic. C without chords.
theory::Key likely_key(std::span<const theory::Chord> chords);

/// Where the key of bars comes from that stand in front of any key line.
enum class KeySource : std::uint8_t {
  song,   ///< The form begins in a key that is named; a pick-up before it has the same.
  chords, ///< The key that fits them best.
  degrees ///< They were read as degrees of C; the mode is open.
};

/// Gives the first `bars_without_key` bars of the text, and unless it has one the song, a key.
void settle_key(Song& song, std::size_t bars_without_key, KeySource source);

} // namespace landfall::song
