#pragma once

#include "theory/note.hpp"

#include <optional>
#include <span>
#include <string_view>

namespace landfall::band {

/// A drum and its key. Source: General MIDI Level 1 percussion key map.
struct Drum {
  std::string_view name;
  theory::MidiNote note;
  int sixteenths = 1; ///< How long it rings.
  bool time = false;  ///< Keeps time (hats, ride, shakers): goes on when the others stop.
};

/// Every drum a feel file may name.
std::span<const Drum> all_drums();

/// By its name in a feel file; nullptr if there is none.
const Drum* find_drum(std::string_view name);

/// By its key; nullptr if the kit has no such drum.
const Drum* find_drum(theory::MidiNote note);

} // namespace landfall::band
