#pragma once

#include "render/draw.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <string>
#include <vector>

namespace landfall::render::checks {

// Approved draw lists that are too many to be kept whole: a line for each, of its name, the number
// of its commands and the FNV-1a hash (64 bits) of their dump.

inline std::uint64_t fnv1a(std::string_view bytes) {
  std::uint64_t hash = 0xCBF29CE484222325U;
  for (const char c : bytes)
    hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
  return hash;
}

struct TableRow {
  std::string name;
  std::string dumped;
  std::string counted; ///< What the table has of it.

  TableRow(std::string row, const DrawList& list) : name(std::move(row)), dumped(dump(list)) {
    char words[64];
    std::snprintf(words, sizeof words, "%zu %016llx", list.commands.size(),
                  static_cast<unsigned long long>(fnv1a(dumped)));
    counted = words;
  }
};

/// The lines of a table by name; the last two words are counts.
inline std::map<std::string, std::string> read_table(const std::string& path) {
  std::map<std::string, std::string> out;
  std::ifstream file(path);
  for (std::string line; std::getline(file, line);) {
    const std::size_t hash = line.rfind(' ');
    const std::size_t count = hash == std::string::npos ? hash : line.rfind(' ', hash - 1);
    if (count != std::string::npos)
      out[line.substr(0, count)] = line.substr(count + 1);
  }
  return out;
}

/// Holds rows against the table at `path`, or writes it anew under LANDFALL_APPROVE. Where a line
/// differs, the whole dump is written to `folder` and named.
inline void check_table(const std::vector<TableRow>& rows, const std::string& path,
                        const std::string& folder) {
  if (std::getenv("LANDFALL_APPROVE") != nullptr) {
    std::ofstream file(path);
    for (const TableRow& row : rows)
      file << row.name << ' ' << row.counted << '\n';
  }
  auto approved = read_table(path);
  for (const TableRow& row : rows) {
    const bool same = approved[row.name] == row.counted;
    std::string kept = folder + "/" + row.name + ".txt";
    std::replace(kept.begin() + static_cast<std::ptrdiff_t>(folder.size()), kept.end(), ' ', '-');
    if (!same)
      std::ofstream(kept) << row.dumped;
    INFO(row.name << ": what is drawn now is in " << kept);
    CHECK(same);
    approved.erase(row.name);
  }
  INFO((approved.empty() ? "" : approved.begin()->first) << " is approved, but no longer drawn");
  CHECK(approved.empty());
}

} // namespace landfall::render::checks
