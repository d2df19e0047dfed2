#pragma once

#include "neck/position.hpp"

#include <string_view>

namespace landfall::neck {

/// Three chord tones on three adjacent strings, or under one hand on a keyboard.
struct Group {
  enum class Kind : std::uint8_t { triad, fifth };

  std::array<int, 3> strings{}; ///< As players number them, lowest first; 0 on a keyboard.
  std::array<int, 3> frets{};   ///< Of these strings; on a keyboard MIDI notes.
  std::array<int, 3> pitches{}; ///< MIDI notes, rising.
  Kind kind = Kind::triad;
  std::string_view form; ///< `root position`, `first inversion`, `1-5-1`: static text.
  bool in_grip = false;  ///< All three are in the chord's grip.

  bool operator==(const Group&) const = default;
};

} // namespace landfall::neck
