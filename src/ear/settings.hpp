#pragma once

#include "time/ticks.hpp"

#include <optional>

namespace landfall::ear {

/// How the player is judged.
struct Settings {
  Ticks window = eighth;     ///< Either side of a change: a sixteenth to a quarter.
  std::optional<int> split;  ///< MIDI notes below it are not judged.
  double shortest_ms = 20.0; ///< A note that is shorter ...
  int ghost_velocity = 24;   ///< ... and softer is a ghost: not judged.
  bool timing = true;        ///< Whether timing is told: not before the input is calibrated.

  bool operator==(const Settings&) const = default;
};

} // namespace landfall::ear
