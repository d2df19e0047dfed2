#pragma once

#include "trade/phrase.hpp"

namespace landfall::app::sheet {

/// A note value as it is written.
struct NoteValue {
  int part = 4; ///< 1 for a whole note, 4 for a quarter, up to 32.
  int dots = 0;
  bool triplet = false;

  bool operator==(const NoteValue&) const = default;
};

Ticks ticks_of(const NoteValue& value);

/// The fewest values that a length is made of, the longest first; what no value reaches is left
/// out.
std::vector<NoteValue> values_of(Ticks length);

/// What begins at one moment: notes, or a rest.
struct Beat {
  Ticks at; ///< From the phrase's first bar line; below 0 in a pick-up.
  NoteValue value;
  std::vector<std::size_t> notes; ///< Indices of Phrase::notes; none for a rest.
  bool tied = false;              ///< Goes on from the beat before.
};

struct TabBar {
  int number = 1; ///< 0 and below for a pick-up.
  Ticks start, length;
  std::vector<Beat> beats;
};

/// The phrase as it is written down: what was played off the grid is moved to the nearest
/// sixteenth, or triplet in beats that lie nearer to these, and a note ends where the next begins.
std::vector<TabBar> written_bars(const trade::Phrase& phrase);

} // namespace landfall::app::sheet
