#include "trade/call_line.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace landfall::trade {
namespace {

constexpr std::chrono::milliseconds longest_leading{480};

double part_of(const LineRequest& request, std::size_t index) {
  const auto first = request.onsets.front().start, last = request.onsets.back().start;
  if (last <= first)
    return 1.0;
  return static_cast<double>((request.onsets[index].start - first).count) /
         static_cast<double>((last - first).count);
}

bool time_enough(const LineRequest& request, std::size_t from, const Spot& a, const Spot& b) {
  const auto gap = request.onsets[from + 1].start - request.onsets[from].start;
  return duration_of(gap, request.tempo) >= quickest(a, b);
}

/// Chooses the landings, then what leads into them.
class GoalChooser {
public:
  GoalChooser(const LineRequest& request, const LineShape& shape, Chance& chance)
      : request_(request), shape_(shape), chance_(chance), line_(request.onsets.size()) {}

  std::vector<LineNote> choose() {
    const Spot* last = nullptr;
    for (std::size_t i = 0; i < line_.size(); ++i)
      if (request_.onsets[i].goal)
        if (const auto* spot = landing(i, last))
          line_[i] = {last = spot, PhraseRole::landing, -1};
    for (std::size_t i = 1; i < line_.size(); ++i)
      if (line_[i].role == PhraseRole::landing)
        lead_into(i);
    return std::move(line_);
  }

private:
  const Ground& ground(std::size_t index) const {
    return request_.grounds[static_cast<std::size_t>(request_.onsets[index].chord)];
  }

  /// Whether the hand can't be there in time after a landing just before.
  bool too_fast(std::size_t index, const Spot& spot) const {
    return index > 0 && line_[index - 1].spot != nullptr &&
           !time_enough(request_, index - 1, *line_[index - 1].spot, spot);
  }

  const Spot* landing(std::size_t index, const Spot* last) {
    const double aim =
        shape_.low + (shape_.high - shape_.low) * height(shape_.contour, part_of(request_, index));
    const Spot* best = nullptr;
    double least = 1e9;
    for (const auto& spot : ground(index).notes) {
      if (!spot.landing)
        continue;
      const int outside =
          std::max({0, shape_.low - spot.midi.number, spot.midi.number - shape_.high});
      const double cost = std::abs(spot.midi.number - aim) * 0.25 + outside * 3.0 +
                          (last != nullptr ? std::abs(spot.midi - last->midi) * 0.12 : 0.0) +
                          (last != nullptr && spot.midi == last->midi ? 0.8 : 0.0) +
                          (spot.reach ? 0.8 : 0.0) - (spot.guide ? 0.5 : 0.0) +
                          (too_fast(index, spot) ? 30.0 : 0.0) + chance_.between(0.0, 2.2);
      if (cost < least) {
        least = cost;
        best = &spot;
      }
    }
    return best;
  }

  /// Open, and short enough to lead on: what lies outside must not stay.
  bool open(std::size_t index) const {
    const auto& onset = request_.onsets[index];
    const auto gap = request_.onsets[index + 1].start - onset.start;
    return line_[index].spot == nullptr && !onset.goal && gap <= quarter &&
           duration_of(gap, request_.tempo) <= longest_leading;
  }

  void lead_into(std::size_t index) {
    if (index >= 2 && open(index - 1) && open(index - 2) &&
        chance_.percent(request_.density->enclosures) && enclose(index))
      return;
    if (open(index - 1) && chance_.percent(request_.density->approach_notes))
      approach(index);
  }

  const Spot* at(std::size_t index, int midi) const {
    const auto& all = ground(index).all;
    const auto found = std::find_if(all.begin(), all.end(),
                                    [&](const Spot& spot) { return spot.midi.number == midi; });
    return found == all.end() ? nullptr : &*found;
  }

  void approach(std::size_t index) {
    const auto& goal = *line_[index].spot;
    const int first = chance_.percent(70) ? -1 : 1;
    for (const int step : {first, -first})
      if (const auto* spot = at(index, goal.midi.number + step);
          spot != nullptr && time_enough(request_, index - 1, *spot, goal)) {
        line_[index - 1] = {spot, PhraseRole::approach, request_.onsets[index].chord};
        return;
      }
  }

  /// The neighbour above: of the set within a whole step, else a half step.
  const Spot* above(std::size_t index, int midi) const {
    for (const auto& spot : ground(index).notes)
      if (spot.in_set && (spot.midi.number == midi + 1 || spot.midi.number == midi + 2))
        return at(index, spot.midi.number);
    return at(index, midi + 1);
  }

  bool enclose(std::size_t index) {
    const auto& goal = *line_[index].spot;
    const auto* upper = above(index, goal.midi.number);
    const auto* lower = at(index, goal.midi.number - 1);
    if (upper == nullptr || lower == nullptr)
      return false;
    if (chance_.percent(35))
      std::swap(upper, lower);
    if (!time_enough(request_, index - 2, *upper, *lower) ||
        !time_enough(request_, index - 1, *lower, goal))
      return false;
    line_[index - 2] = {upper, PhraseRole::enclosure, request_.onsets[index].chord};
    line_[index - 1] = {lower, PhraseRole::enclosure, request_.onsets[index].chord};
    return true;
  }

  const LineRequest& request_;
  const LineShape& shape_;
  Chance& chance_;
  std::vector<LineNote> line_;
};

} // namespace

LineShape any_shape(const LineRequest& request, Chance& chance) {
  int low = 127, high = 0;
  for (const auto& ground : request.grounds)
    for (const auto& spot : ground.notes) {
      low = std::min(low, spot.midi.number);
      high = std::max(high, spot.midi.number);
    }
  LineShape shape{low, high, any_contour(chance)};
  const int spare = high - low - request.density->range;
  if (spare > 0) { // rather in the upper half, where melodies are
    const double where = std::max(chance.unit(), chance.unit());
    shape.low = low + static_cast<int>(std::lround(where * spare));
    shape.high = shape.low + request.density->range;
  }
  return shape;
}

std::vector<LineNote> choose_goals(const LineRequest& request, const LineShape& shape,
                                   Chance& chance) {
  return GoalChooser(request, shape, chance).choose();
}

} // namespace landfall::trade
