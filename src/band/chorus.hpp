#pragma once

#include "band/band.hpp"
#include "band/harmony.hpp"
#include "band/pulse.hpp"

namespace landfall::band {

/// A bar of the chorus, with all that chooses its patterns.
struct BarPlan {
  const song::Bar* bar = nullptr;
  const Feel* feel = nullptr;
  int feel_beats = 4; ///< Beats of the feel's own bar.
  std::vector<Pulse> pulses;
  std::vector<int> beats; ///< The pattern's beat for each pulse, from 0.
  int section = 0;        ///< Counted from 0 through the chorus.
  int phrase = 0;         ///< Phrases of up to four bars, counted from 0 through the chorus.
  int round = 0; ///< How often the phrase has come by: the chorus, or in a loop shorter than
                 ///< a phrase how many phrases have passed.
  int bar_in_phrase = 0;
  int fill = -1;      ///< Which fill of the chorus this bar may take, from 0; -1 for none.
  bool opens = false; ///< First of a section that a fill led to.
  int left = 1;       ///< Bars from here to the end of the chorus, this one included.
};

/// A request with its bars laid out.
struct Chorus {
  const Request& request;
  std::vector<BarPlan> bars;
  int fills = 0;      ///< In this chorus.
  int fill_round = 0; ///< How many choruses with a fill before the top have passed.
  Level level = Level::medium;
  Ticks bass_end;    ///< Where the next chorus's own push into its top begins, or the chorus ends.
  Ticks comping_end; ///< The same of comping.
};

/// `request.form` has bars. What it and `feels` hold must outlive the result.
Chorus laid_out(const Request& request, const FeelBook& feels);

/// The first bar alone, as the chorus before sees it.
BarPlan first_bar(const Request& request, const FeelBook& feels);

/// The patterns of one part and role that suit a level: those of that level; if there are none,
/// those of any level; if there are none, those of the nearest.
template <typename Pattern>
std::vector<const Pattern*> suiting(const std::vector<Pattern>& all, Role role, Level level) {
  std::vector<const Pattern*> result;
  const auto take = [&](std::optional<Level> wanted) {
    for (const auto& pattern : all)
      if (pattern.role == role && pattern.level == wanted)
        result.push_back(&pattern);
  };
  take(level);
  if (result.empty())
    take(std::nullopt);
  for (const auto other : {Level::medium, Level::quiet, Level::full})
    if (result.empty())
      take(other);
  return result;
}

/// The pattern of `part` for this bar; nullptr if the feel has none of that role. Bars of one
/// phrase share theirs; the same phrase of the next chorus takes another if there are several.
const LinePattern* chosen(const Chorus& chorus, const std::vector<LinePattern>& all, Part part,
                          const BarPlan& bar);

/// Of a part's velocity: the letter of a cell, the part's mix in percent, the intensity.
int velocity_of(char touch, int mix, double intensity);

} // namespace landfall::band
