#pragma once

#include "band/band.hpp"
#include "neck/instrument.hpp"
#include "song/parser.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace landfall::app {

/// A song and where it came from.
struct LoadedSong {
  std::shared_ptr<const song::Song> song;
  std::string name; ///< As it was asked for: `quay-lamps`, a path, `-`.
};

/// Finds and reads a SONG as commands take it: a path, a shipped or own song's file name without
/// its ending, `-` for `input`, or a quoted progression containing `|`. The error is one line with
/// the file and, where it has one, line and column.
Result<LoadedSong, std::string> load_song(const std::string& name, std::istream& input);

/// Where songs are looked for, own ones first.
std::vector<std::filesystem::path> song_folders();

/// All songs that can be named, own and shipped, by file name.
std::vector<std::filesystem::path> song_files();

/// `FILE:LINE:COLUMN: reason`.
std::string located(const std::string& file, const TextError& error);

/// Every feel file that can be read, own ones before shipped ones of the same name; always has the
/// built-in feel. `problems` are lines for the player.
class FeelFolder final : public band::FeelBook {
public:
  static std::shared_ptr<const FeelFolder> load(std::vector<std::string>& problems);

  /// The feel of this name, else the built-in one.
  const band::Feel* find(std::string_view name) const override;
  bool has(std::string_view name) const;
  std::vector<std::string> names() const;

private:
  std::vector<band::Feel> feels_; ///< By name.
};

/// An instrument by its file name without the ending or by its own name, in any case.
Result<neck::Instrument, std::string> load_instrument(const std::string& name);
std::vector<std::string> instrument_names();

} // namespace landfall::app
