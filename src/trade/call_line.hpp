#pragma once

#include "trade/contour.hpp"
#include "trade/path.hpp"
#include "trade/phrase.hpp"
#include "trade/rhythm.hpp"

namespace landfall::trade {

/// A note of the line: where it is played, and as what.
struct LineNote {
  const Spot* spot = nullptr; ///< Null: no note there.
  PhraseRole role = PhraseRole::set;
  int chord = -1; ///< Of what leads into a landing: the landing's; else -1.
};

/// What a line is drawn through.
struct LineRequest {
  std::span<const Onset> onsets;
  std::span<const Ground> grounds; ///< By chord of the turn. Spots point into them.
  const Density* density = nullptr;
  Tempo tempo;
  neck::Instrument::Kind kind = neck::Instrument::Kind::fretted;
};

/// The stretch of pitches that a call keeps to, and how it moves in it.
struct LineShape {
  int low = 0;
  int high = 127;
  Contour contour = Contour::arch;
};

/// A stretch as wide as the density's range, somewhere in what the hand reaches.
LineShape any_shape(const LineRequest& request, Chance& chance);

/// The landings, and what leads into them: notes at goals, approach notes and enclosures just
/// before them; the rest is open. As long as the onsets.
std::vector<LineNote> choose_goals(const LineRequest& request, const LineShape& shape,
                                   Chance& chance);

/// Fills what is open: the best of many ways by interval, contour, chord tones on the beat, the
/// motif's own repetition, and what the hand minds.
void draw_line(const LineRequest& request, const LineShape& shape, std::vector<LineNote>& line,
               Chance& chance);

} // namespace landfall::trade
