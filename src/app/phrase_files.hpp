#pragma once

#include "trade/phrase_file.hpp"

#include <filesystem>

namespace landfall::app {

/// A phrase file that can be read, and what it is called on the command line and in lists: its
/// file name without the ending.
struct PhraseFile {
  std::string name;
  std::filesystem::path path;
  trade::KeptPhrase kept;
};

/// The player's own phrases, MIDI files among them, and the shipped ones, by file name; an own one
/// stands for a shipped one of its name, a phrase file for a MIDI file. `problems` are lines about
/// files that can't be read.
std::vector<PhraseFile> phrase_files(std::vector<std::string>& problems);

/// Whether a path names a standard MIDI file: `.mid` or `.midi`.
bool is_midi_file(const std::filesystem::path& path);

/// A phrase by its file name without the ending, or by the path of a phrase file or a standard MIDI
/// file, of which phrase_from_midi() takes `key` and `over`. The error is one line.
Result<trade::KeptPhrase, std::string> load_phrase(const std::string& name,
                                                   std::optional<theory::Key> key = {},
                                                   const std::string& over = {});

/// Whether a phrase file can hold it: it has notes, one metre, and no more bars than
/// a file may have.
bool can_be_kept(const trade::Phrase& phrase);

/// Writes a new file into the player's own folder, with a number behind the name where that is
/// taken; nothing is written over. The path, or the reason for a failure. `kept` can be kept.
Result<std::filesystem::path, std::string> keep_phrase(trade::KeptPhrase kept);

} // namespace landfall::app
