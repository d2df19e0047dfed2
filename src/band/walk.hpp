#pragma once

#include "theory/key.hpp"
#include "time/ticks.hpp"

#include <array>
#include <cstdint>
#include <span>
#include <vector>

namespace landfall::band {

/// The bass's register: a bass guitar's, from its open E to the G above its middle.
inline constexpr theory::MidiNote lowest_bass{28};
inline constexpr theory::MidiNote highest_bass{55};

/// How a pitch class sits over a chord, for a bass line.
enum class Standing : std::uint8_t { outside, scale, chord };

/// Over each of the twelve pitch classes: chord tones; the key's notes that no chord tone
/// contradicts (no natural third over a minor chord); the rest.
std::array<Standing, 12> standings(const theory::Chord& chord, theory::Key key);

/// A way to be walked.
struct Walk {
  theory::MidiNote from;
  int steps = 0;                             ///< Notes between `from` and the target.
  std::span<const theory::MidiNote> targets; ///< Any of these; at least one.
  std::array<Standing, 12> standing{};
  std::uint64_t draw = 0; ///< Chooses among good ways.
};

/// The notes of a walk, and at the end the target chosen. Each moves by at most an octave; the last
/// one leads to the target by a half step, a step of the scale, or from a fifth above or a fourth
/// below. Dynamic programming over the register.
std::vector<theory::MidiNote> walked(const Walk& walk);

} // namespace landfall::band
