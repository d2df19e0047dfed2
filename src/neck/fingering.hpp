#pragma once

#include "neck/fretboard.hpp"

#include <array>
#include <cstdint>

namespace landfall::neck {

/// What each string does, low string first: a fret, 0 for open, or muted. Strings that the
/// instrument lacks are muted.
inline constexpr std::int8_t muted = -1;
struct FretRow {
  std::array<std::int8_t, max_strings> frets;

  FretRow() { frets.fill(muted); }
  std::int8_t& operator[](int string) { return frets[static_cast<std::size_t>(string)]; }
  std::int8_t operator[](int string) const { return frets[static_cast<std::size_t>(string)]; }
  bool operator==(const FretRow&) const = default;
};

/// One finger that holds several strings.
struct Barre {
  int finger = 1;
  int fret = 0;
  int first = 0; ///< The lowest-tuned string it holds, as an index.
  int last = 0;

  bool operator==(const Barre&) const = default;
};

/// Which finger goes where.
struct Fingering {
  std::array<std::int8_t, max_strings> finger{}; ///< 1 index to 4 little finger; 0 for none.
  std::array<Barre, 2> barres{};
  int barre_count = 0;
  int fingers = 0;     ///< How many are used, a barre counted as one.
  double strain = 0.0; ///< Rises with fingers, barres and stretch; for comparison only.
};

/// How a hand takes the row, or none if no hand can: more than four fingers, a stretch of more than
/// `span` frets from lowest to highest, or a barre that would stop an open string.
std::optional<Fingering> fingered(const FretRow& row, int strings, int span = 3);

} // namespace landfall::neck
