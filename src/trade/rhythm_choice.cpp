#include "trade/rhythm_choice.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::trade {
namespace {

constexpr int swing_of_triplets = 550; ///< From this share on a feel has triplets.

std::span<const Cell> cells_for(const BeatGroup& group) {
  if (group.ternary)
    return ternary_cells();
  return group.beats == 2 ? pair_cells() : single_cells();
}

bool has_triplets(const Groove& groove) {
  return !groove.sixteenths && groove.swing.share >= swing_of_triplets;
}

/// How far the feel and the smallest value allow so many characters in a beat: 0 not at all.
double allowance(int fineness, bool ternary, const Groove& groove, Grain shortest) {
  if (fineness == 1)
    return 1.0;
  if (shortest == Grain::quarter)
    return 0.0;
  if (fineness == 2 || (ternary && fineness == 3))
    return 1.0;
  if (fineness == 3)
    return has_triplets(groove) && shortest >= Grain::triplet ? 0.8 : 0.0;
  if (shortest < Grain::sixteenth || has_triplets(groove))
    return 0.0;
  if (fineness == 6)
    return 0.4;
  return groove.sixteenths ? 1.6 : 0.15;
}

/// The shortest way from one onset of the cell to the next, or to the next cell's first.
Ticks tightest(const Cell& cell, const BeatGroup& group, const RhythmRequest& request) {
  Ticks smallest = quarter * 8;
  std::optional<Ticks> last;
  for (int b = 0; b < cell.beats(); ++b) {
    const auto& beat = request.beats[static_cast<std::size_t>(group.first + b)];
    const auto text = cell.beat(b);
    for (std::size_t i = 0; i < text.size(); ++i)
      if (text[i] == 'x') {
        const auto at = beat.pulse.start + offset_in(beat, static_cast<int>(i),
                                                     static_cast<int>(text.size()), request.groove);
        if (last)
          smallest = std::min(smallest, at - *last);
        last = at;
      }
  }
  return smallest;
}

double weight_of(const Cell& cell, const BeatGroup& group, const RhythmRequest& request) {
  const auto& density = *request.density;
  const double wanted = density.notes * group.beats / 8.0;
  const double off = cell.onsets() - wanted;
  if (cell.onsets() == 0 || tightest(cell, group, request) < least_gap(density, request.tempo))
    return 0.0;
  return cell.weight * std::exp(-off * off / 1.1) *
         allowance(cell.fineness(), group.ternary, request.groove, density.shortest) *
         (cell.off ? density.syncopation / 40.0 : 1.0);
}

} // namespace

std::vector<BeatGroup> beat_groups(std::span<const TurnBeat> beats, const Groove& groove) {
  std::vector<BeatGroup> groups;
  const auto ternary = [&](std::size_t i) { return beats[i].pulse.ternary || groove.ternary; };
  for (std::size_t i = 0; i < beats.size();) {
    std::size_t left = 1;
    while (i + left < beats.size() && beats[i + left].bar == beats[i].bar)
      ++left;
    const bool same_bar = !groups.empty() && groups.back().bar == beats[i].bar;
    // five are two, one and two: the bar is felt as three and two
    const bool single = left == 3 && same_bar && groups.back().slot == 0;
    const bool pair = left >= 2 && !single && !ternary(i) && !ternary(i + 1);
    groups.push_back({static_cast<int>(i), pair ? 2 : 1, ternary(i), beats[i].bar,
                      same_bar ? groups.back().slot + 1 : 0});
    i += pair ? 2 : 1;
  }
  return groups;
}

Ticks offset_in(const TurnBeat& beat, int character, int characters, const Groove& groove) {
  return song::cell_offset(beat.pulse, character, characters, groove.swing,
                           groove.ternary || (beat.pulse.ternary && characters % 3 == 0));
}

Ticks least_gap(const Density& density, Tempo tempo) {
  return ticks_in(Nanoseconds{1'000'000'000 / density.fastest}, tempo);
}

const Cell* any_cell(const BeatGroup& group, const RhythmRequest& request, Chance& chance) {
  const auto cells = cells_for(group);
  std::vector<double> weights;
  double sum = 0.0;
  for (const auto& cell : cells)
    sum += weights.emplace_back(weight_of(cell, group, request));
  return sum <= 0.0 ? nullptr : &cells[chance.weighted(weights)];
}

} // namespace landfall::trade
