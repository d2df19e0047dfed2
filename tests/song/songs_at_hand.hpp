#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace landfall::song {

struct SongFile {
  std::string name;
  std::string text;
};

/// The songs in a folder, named from the top of the tree, by name.
inline std::vector<SongFile> songs_in(const std::string& folder) {
  std::vector<SongFile> files;
  const std::string top = LANDFALL_SOURCE_DIR "/";
  for (const auto& entry : std::filesystem::directory_iterator(top + folder)) {
    if (entry.path().extension() != ".song")
      continue;
    std::ifstream file(entry.path(), std::ios::binary);
    files.push_back({entry.path().filename().string(),
                     {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()}});
  }
  std::sort(files.begin(), files.end(),
            [](const SongFile& a, const SongFile& b) { return a.name < b.name; });
  return files;
}

/// The songs that Landfall ships.
inline std::vector<SongFile> shipped_songs() {
  return songs_in("songs");
}

} // namespace landfall::song
