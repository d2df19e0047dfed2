#pragma once

#include "ear/ground.hpp"
#include "ear/heard.hpp"
#include "ear/judge.hpp"

namespace landfall::ear {

/// A pitch that a note came to stand on: at its onset, or where a bend arrived.
struct Pitch {
  Ticks at;
  int midi = 60;        ///< With the bend, rounded.
  double cents = 0.0;   ///< From `midi`.
  bool settled = false; ///< Median over 60 ms within 35 cents of `midi`.
  bool onset = true;
  std::size_t note = 0; ///< Index of the note.
};

/// Every pitch that a note stood on, its onset first.
std::vector<Pitch> pitches_of(const HeardNote& note, std::size_t index, Tempo tempo);

/// Pitches that began together, within 40 ms.
struct Strike {
  Ticks at;
  std::vector<Pitch> pitches;
};

/// The strikes of notes, without ghosts and what lies below the split. Rising.
std::vector<Strike> strikes_of(const Ground& ground, std::span<const HeardNote> notes,
                               const Settings& settings);

/// Ticks that so many milliseconds take at a tempo.
Ticks ticks_of_ms(double ms, Tempo tempo);

} // namespace landfall::ear
