#pragma once

#include "ear/match.hpp"

namespace landfall::ear {

/// A pitch that a heard note stood on, as something that may be a note of the call.
struct Candidate {
  double at = 0.0;   ///< Ticks.
  double midi = 0.0; ///< With the bend.
  std::size_t note = 0;
  bool onset = true;
  double skip_cost = 0.0; ///< Of its being no note of the call.
  /// Pitches that it comes to by a bend, with it the first.
  std::vector<double> reached;
};

/// Rising; those that begin together by pitch where the call has chords too.
std::vector<Candidate> candidates_of(std::span<const HeardNote> heard, bool chords,
                                     const MatchSettings& settings);

/// Where the notes of an answer belong: at `delay` + `slower` times their place in the call.
struct AnswerLine {
  double delay = 0.0; ///< Ticks.
  double slower = 1.0;
  double origin = 0.0; ///< The call's first tick.
  int octaves = 0;     ///< By which the whole answer is shifted.

  double place(Ticks at) const {
    return origin + delay + (static_cast<double>(at.count) - origin) * slower;
  }
};

/// How far a candidate is from the pitch that a note asks for, in cents.
struct Distance {
  double cents = 0.0;
  int octaves = 0;
  bool bent = false;
};
Distance distance(const AskedNote& asked, const Candidate& candidate, int octaves,
                  const MatchSettings& settings);

struct Alignment {
  std::vector<std::optional<std::size_t>> candidate; ///< For each note that is asked for.
  double cost = 0.0;
};

/// The cheapest alignment on a given line.
Alignment align(std::span<const AskedNote> asked, std::span<const Candidate> candidates,
                const AnswerLine& line, const MatchSettings& settings);

} // namespace landfall::ear
