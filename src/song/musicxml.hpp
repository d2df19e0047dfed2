#pragma once

#include "song/diagnostic.hpp"
#include "song/form.hpp"
#include "song/song.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::song {

/// Chords out of a MusicXML 4.0 score (score-partwise), as a song.
struct Imported {
  std::optional<Song> song;
  std::vector<Diagnostic> diagnostics; ///< Errors, and whatever could not be taken over as it was.
};

/// Whether this build can read MusicXML.
bool reads_musicxml();

/// Reads the first part that has chord symbols: `harmony` with root, kind, bass and degrees at any
/// moment, metre, key, tempo, rehearsal marks as sections, repeats and endings, a pick-up measure.
/// What has no place in a song of ours is reported by its line, never dropped in silence. Any bytes
/// give a song or an error; linear time.
Imported import_musicxml(std::string_view text);

/// One chorus as a score-partwise of MusicXML 4.0, its changes as harmony over rests: metres, keys,
/// tempi, sections as rehearsal marks, a pick-up measure; repeats are written out. Empty in a build
/// that cannot read it.
std::string musicxml_of(const Form& form);

} // namespace landfall::song
