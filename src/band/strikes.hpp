#pragma once

#include "band/chorus.hpp"

namespace landfall::band {

/// A note or chord that a pattern asks for.
struct Strike {
  Ticks at;
  Ticks end; ///< Above `at`.
  Ticks aim; ///< The tick whose chord it sounds: `at`, or of a push the next pulse.
  char letter = 'x';
  char touch = 'x';
  const BarPlan* bar = nullptr;
};

/// Calls place(at, aim, letter) for each cell of one bar of a row. `beats` is how many of the
/// pattern's beats the row covers; fewer than the feel has lie at the bar's end.
template <typename Place>
void lay(const std::string& cells, int beats, const BarPlan& where, Place place) {
  const auto pulses = static_cast<int>(where.pulses.size());
  const int all = where.feel_beats;
  const bool compound = song::compound(where.feel->meter);
  const int in_beat = static_cast<int>(cells.size()) / beats;
  for (int p = beats < all ? std::max(0, pulses - beats) : 0; p < pulses; ++p) {
    const auto& pulse = where.pulses[static_cast<std::size_t>(p)];
    const int beat = beats < all ? beats - (pulses - p) : where.beats[static_cast<std::size_t>(p)];
    const Ticks start = where.bar->start + pulse.start;
    for (int c = 0; c < in_beat; ++c)
      place(start + cell_offset(pulse, c, in_beat, where.feel->swing, compound),
            start + pulse.length, cells[static_cast<std::size_t>(beat * in_beat + c)]);
  }
}

/// What the patterns of the bass or of comping ask for in one chorus, in order and without
/// overlaps. A push that leads into the top stands before tick 0.
std::vector<Strike> strikes(const Chorus& chorus, Part part);

/// Where the next chorus's own push begins, from its top: 0 or below.
Ticks push_before_top(const Request& next, const FeelBook& feels, Part part);

} // namespace landfall::band
