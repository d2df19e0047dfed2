#pragma once

#include "midi/smf.hpp"
#include "trade/phrase_file.hpp"

/// Phrases as standard MIDI files. Pure.
namespace landfall::app {

/// What a MIDI file does not say of itself.
struct MidiPhraseOptions {
  std::string name;               ///< For a file without a track name; not empty.
  std::optional<theory::Key> key; ///< In place of the file's key signature, else C.
  std::string over; ///< `| Am7 | D7 |`, in place of the file's chords; "" keeps those.
};

/// The notes of the first track that has any beside drums, as a phrase over at most 64 bars.
/// Markers are its chords where every one of them reads as a chord, the first at the first bar line
/// and the notes before it a pick-up; without them the phrase is over no chord, in the key. A pitch
/// wheel counts as it stands at a note's end, in the range that the file sets. The error is one
/// line without the file's name.
Result<trade::KeptPhrase, std::string> phrase_from_midi(const midi::smf::File& file,
                                                        const MidiPhraseOptions& options);

/// A track of the title, metre, key and chords as markers, and one of the notes: those that are
/// bent on a channel of their own, with the wheel. phrase_from_midi() gives back bars, chords,
/// pitches, times, loudness and bends; strings and what a note is for are not in a MIDI file. Whole
/// bars come before the first bar line where a pick-up needs them.
midi::smf::File midi_of(const trade::KeptPhrase& kept, Tempo tempo);

} // namespace landfall::app
