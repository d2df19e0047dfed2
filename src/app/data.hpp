#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace landfall::app {

/// Where the program's data lies: LANDFALL_DATA if set, else beside the installed executable
/// (../share/landfall), else the source tree it was built from. None if nowhere.
std::optional<std::filesystem::path> data_folder();

/// Folder of songs, feels, instruments; of fonts. Empty path when there is no data folder.
std::filesystem::path songs_folder();
std::filesystem::path fonts_folder();

/// The XDG folders for what the player changes and records, with "landfall" at the end.
/// Not made until something is written.
std::filesystem::path config_folder();
std::filesystem::path user_data_folder();

/// A title as the name of a file, without an ending: lower case, with hyphens for all that is no
/// letter or digit. `Kettle Lid` is `kettle-lid`. `nameless` where nothing is left.
std::string hyphenated_name(const std::string& title, const std::string& nameless = "untitled");

/// Files with this ending (".song") in `folder`, by name. Empty if it cannot be read.
std::vector<std::filesystem::path> files_in(const std::filesystem::path& folder,
                                            const std::string& ending);

/// Reads a whole file of at most `limit` bytes; the error is one clear line without the path.
struct FileText {
  std::string text;
  std::string error; ///< Empty on success.
};
FileText read_file(const std::filesystem::path& path, std::size_t limit = 64U << 20U);

/// Writes a new file beside `path` and renames it over: `path` is whole at every moment. Returns
/// the reason for a failure, else an empty text.
std::string write_file(const std::filesystem::path& path, const std::string& bytes);

} // namespace landfall::app
