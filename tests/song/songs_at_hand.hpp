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

/// The songs that Landfall ships, by name.
inline std::vector<SongFile> shipped_songs() {
  std::vector<SongFile> files;
  for (const auto& entry : std::filesystem::directory_iterator(LANDFALL_SOURCE_DIR "/songs")) {
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

} // namespace landfall::song
