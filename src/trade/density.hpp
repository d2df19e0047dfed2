#pragma once

#include "theory/result.hpp"
#include "time/tempo.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace landfall::trade {

/// The smallest value that a call is written in.
enum class Grain : std::uint8_t { quarter, eighth, triplet, sixteenth };

/// How long a value of this grain is.
constexpr Ticks length_of(Grain grain) {
  constexpr Ticks lengths[] = {quarter, eighth, quarter / 3, sixteenth};
  return lengths[static_cast<std::size_t>(grain)];
}

/// How much goes on in a call. songs/trading/README.md says what each line of a file means.
struct Density {
  std::string name;
  std::string about;
  int notes = 8; ///< In eight beats of playing, 1 to 32.
  Grain shortest = Grain::eighth;
  int fastest = 6;        ///< Notes a second at most, 1 to 16.
  int length = 70;        ///< Of the turn, in percent, 10 to 100: the rest is space.
  int syncopation = 20;   ///< 0 to 100: how gladly it leaves the beat.
  int pick_ups = 15;      ///< Of a hundred calls, so many begin before the bar.
  int range = 12;         ///< Half steps between lowest and highest note, 3 to 36.
  int largest_leap = 7;   ///< Half steps, 2 to 24.
  int leaps = 25;         ///< 0 to 100: how gladly it leaps.
  int approach_notes = 0; ///< Of a hundred landings, so many are led into by a half step.
  int enclosures = 0;     ///< Of a hundred landings, so many are enclosed.
  int variation = 40;     ///< Of a hundred repeats of a motif, so many change its rhythm.

  bool operator==(const Density&) const = default;
};

/// Reads a density file. Total: any bytes give a density or an error with line and column. What a
/// file does not say is as in a Density of its own making.
Result<Density> parse_density(std::string_view text);

/// The program's own sparse, medium and dense, as shipped in songs/trading/: for when there are no
/// files.
const std::vector<Density>& plain_densities();

/// What lies between densities that go from little to much: 0 is the first, 1 the last (clamped).
/// `rising` is not empty. Names and texts are those of the nearest.
Density between(const std::vector<Density>& rising, double amount);

} // namespace landfall::trade
