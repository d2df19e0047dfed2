#pragma once

#include "band/event.hpp"

#include <array>
#include <cstdint>

namespace landfall::practice {

enum class Click : std::uint8_t { off, beats, backbeats };

/// The band rests for the last `bars` of every `of` bars, counted from the start.
struct DropOuts {
  int bars = 0;      ///< 0: it never rests.
  int of = 4;        ///< Above `bars`.
  bool click = true; ///< Whether a click goes on in the rests, on all beats if it is off elsewhere.

  constexpr bool operator==(const DropOuts&) const = default;
};

inline constexpr std::array level_steps{40, 60, 80, 100, 120}; ///< Percent.

/// How what the band has planned is played: chosen by the player, and of no chord.
struct Arrangement {
  Click click = Click::off;
  DropOuts drop_outs;
  bool drone = false; ///< Tonic and fifth, held, in place of the band.
  bool humanised = false;
  std::array<int, band::all_parts.size()> level{100, 100, 100, 100}; ///< By Part; percent.

  bool operator==(const Arrangement&) const = default;
};

/// Whether the band rests in a bar, counted from 0 from the start.
constexpr bool rests(const DropOuts& drop_outs, int bar) {
  return drop_outs.bars > 0 && drop_outs.of > drop_outs.bars &&
         bar % drop_outs.of >= drop_outs.of - drop_outs.bars;
}

} // namespace landfall::practice
