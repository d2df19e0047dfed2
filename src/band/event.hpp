#pragma once

#include "theory/note.hpp"
#include "time/ticks.hpp"

#include <array>
#include <cstdint>

namespace landfall::band {

enum class Part : std::uint8_t { drums, bass, comping, click };
inline constexpr std::array<Part, 4> all_parts{Part::drums, Part::bass, Part::comping, Part::click};

/// A note that the band plays. Drums use the General MIDI percussion map.
struct Event {
  Ticks at;     ///< From the top of the chorus it was planned for; anticipations are negative.
  Ticks length; ///< Above 0.
  Part part = Part::comping;
  theory::MidiNote note;
  int velocity = 80; ///< 1 to 127.

  constexpr bool operator==(const Event&) const = default;
};

} // namespace landfall::band
