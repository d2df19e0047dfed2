#pragma once

#include <optional>
#include <string>
#include <vector>

namespace landfall::app {

/// A loop of a pack: one song, or some bars of it, at one tempo.
struct PackLoop {
  std::string what; ///< `Slipway at Six, in A, bars 1 to 4`
  int beats_per_minute = 0;
  int percent = 100;
  double seconds = 0;
  std::string midi, wav; ///< Files of the pack; "" where there is none.
};

/// A phrase of a pack, where it fits.
struct PackPhrase {
  std::string name, about;
  std::string where;                                      ///< `Slipway at Six, from bar 3, in A`
  std::vector<std::pair<std::string, std::string>> files; ///< What a file is, and its name.
};

/// All that a pack holds.
struct PackContents {
  std::string title, about;
  std::string sheet; ///< "" where there is none.
  std::vector<PackLoop> loops;
  std::vector<PackPhrase> phrases;
};

/// A page with a link to every file, how to practise with them, and the cautions for hands and
/// ears. Pure.
std::string index_page(const PackContents& contents);

/// `1:07`
std::string minutes_text(double seconds);

} // namespace landfall::app
