#include "trade/rhythm.hpp"

#include "trade/rhythm_choice.hpp"
#include "trade/rhythm_goals.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace landfall::trade {
namespace {

/// Lays a call's rhythm: cells up to the landing, the same ones bar for bar, then the landing.
class Layer {
public:
  Layer(const RhythmRequest& request, Chance& chance)
      : request_(request), beats_(request.beats), density_(*request.density), chance_(chance),
        groups_(beat_groups(beats_, request.groove)) {}

  std::vector<Onset> lay() {
    landing_ = landing_beat();
    const int first = first_beat();
    for (const auto& group : groups_)
      if (group.first <= landing_)
        lay_group(group);
    drop_before(first);
    lay_landing();
    if (first == 0)
      lay_pick_up();
    return std::move(onsets_);
  }

private:
  int beat_count() const { return static_cast<int>(beats_.size()); }
  const TurnBeat& beat(int index) const { return beats_[static_cast<std::size_t>(index)]; }

  /// Near the end of what the density fills; rather on a strong beat, and where the chord changes.
  int landing_beat() {
    const int last = beat_count() - 1;
    const double wanted = beat_count() * density_.length / 100.0 - 1.0;
    int best = last;
    double least = 1e9;
    for (int i = std::min(1, last); i <= last; ++i) {
      const double cost = std::abs(i - wanted) - 0.55 * beat(i).weight -
                          (beat(i).fresh ? 1.0 : 0.0) + chance_.between(0.0, 2.4);
      if (cost < least) {
        least = cost;
        best = i;
      }
    }
    return best;
  }

  int first_beat() { return landing_ >= 3 && chance_.percent(28) ? 1 : 0; }

  void drop_before(int first) {
    const auto gone =
        std::erase_if(onsets_, [&](const Onset& onset) { return onset.beat < first; });
    for (auto& onset : onsets_)
      onset.twin = std::max(onset.twin - static_cast<int>(gone), -1);
  }

  void lay_group(const BeatGroup& group) {
    if (group.end() > landing_) {
      for (int i = group.first; i < landing_; ++i)
        lay_cell({i, 1, group.ternary, group.bar, group.slot},
                 any_cell({i, 1, group.ternary, group.bar, group.slot}, request_, chance_));
      return;
    }
    if (breathes_after(group))
      lay_breath(group);
    else
      lay_cell(group, cell_for(group));
  }

  /// The end of the first half of two or four bars: now and then in two, mostly in four.
  bool breathes_after(const BeatGroup& group) {
    const int bars = beats_.back().bar + 1;
    if (bars < 2 || group.end() >= landing_ || beat(group.end()).bar != bars / 2 ||
        group.bar != bars / 2 - 1)
      return false;
    return chance_.percent((bars >= 4 ? 130.0 : 80.0) - density_.length * 0.6);
  }

  void lay_breath(const BeatGroup& group) {
    static constexpr Cell held{"x|-"}, short_one{"x|."}, single{"x"};
    const Cell& cell = group.beats == 1 ? single : chance_.percent(50) ? held : short_one;
    lay_cell(group, &cell);
    if (!onsets_.empty() && onsets_.back().beat == group.first)
      onsets_.back().goal = true;
  }

  /// The cell that the motif has there. A bar that varies it keeps its head.
  const Cell* cell_for(const BeatGroup& group) {
    const auto slot = static_cast<std::size_t>(group.slot);
    if (motif_.size() <= slot)
      motif_.resize(slot + 1);
    auto& kept = motif_[slot];
    const bool fits = kept.cell != nullptr && kept.beats == group.beats;
    if (group.bar != bar_) {
      bar_ = group.bar;
      varies_ = chance_.percent(density_.variation);
    }
    if (!fits || (varies_ && group.slot > 0)) {
      const auto* cell = any_cell(group, request_, chance_);
      if (!fits)
        kept = {cell, group.beats, -1};
      return cell;
    }
    repeats_ = kept.first_onset;
    return kept.cell;
  }

  void lay_cell(const BeatGroup& group, const Cell* cell) {
    const int repeats = std::exchange(repeats_, -1);
    if (cell == nullptr)
      return;
    const auto before = onsets_.size();
    for (int i = 0; i < group.beats; ++i)
      lay_beat(group.first + i, cell->beat(i));
    if (repeats >= 0)
      for (auto k = before; k < onsets_.size(); ++k)
        onsets_[k].twin = repeats + static_cast<int>(k - before);
    else if (const auto slot = static_cast<std::size_t>(group.slot);
             slot < motif_.size() && motif_[slot].cell == cell && motif_[slot].first_onset < 0)
      motif_[slot].first_onset = static_cast<int>(before);
  }

  void lay_beat(int index, std::string_view text) {
    const auto& place = beat(index);
    const int count = static_cast<int>(text.size());
    for (int i = 0; i < count; ++i) {
      const auto from = place.pulse.start + offset_in(place, i, count, request_.groove);
      const auto to = i + 1 == count
                          ? place.pulse.start + place.pulse.length
                          : place.pulse.start + offset_in(place, i + 1, count, request_.groove);
      const char mark = text[static_cast<std::size_t>(i)];
      if (mark == 'x')
        onsets_.push_back({from, to - from, i == 0 ? place.weight : 0, index});
      else if (mark == '-' && !onsets_.empty() &&
               onsets_.back().start + onsets_.back().length == from)
        onsets_.back().length = to - onsets_.back().start;
    }
  }

  /// On its beat, or pushed ahead of it by half a beat.
  void lay_landing() {
    const auto& place = beat(landing_);
    const auto end = beats_.back().pulse.start + beats_.back().pulse.length;
    const auto held = place.pulse.length * (chance_.percent(60) ? 2 : 1);
    Onset landing{place.pulse.start, std::min(held, end - place.pulse.start), place.weight,
                  landing_, true};
    if (landing_ > 0 && chance_.percent(density_.syncopation * 0.6))
      push(landing);
    std::erase_if(onsets_, [&](const Onset& onset) { return onset.start >= landing.start; });
    onsets_.push_back(landing);
  }

  void push(Onset& landing) {
    const auto& ahead = beat(landing_ - 1);
    const bool ternary = ahead.pulse.ternary || request_.groove.ternary;
    const auto start =
        ahead.pulse.start + offset_in(ahead, ternary ? 2 : 1, ternary ? 3 : 2, request_.groove);
    landing.length += landing.start - start;
    landing.start = start;
    landing.weight = 0;
  }

  void lay_pick_up() {
    const auto& first = beat(0);
    if (!chance_.percent(density_.pick_ups) || onsets_.empty() || onsets_.front().start.count != 0)
      return;
    const bool ternary = first.pulse.ternary || request_.groove.ternary;
    const int cells = ternary ? 3 : 2;
    const int count = chance_.percent(density_.notes * 4) ? 2 : 1;
    std::vector<Onset> ahead;
    for (int i = cells - count; i < cells; ++i) {
      const auto from = offset_in(first, i, cells, request_.groove) - first.pulse.length;
      const auto to = i + 1 == cells
                          ? Ticks{}
                          : offset_in(first, i + 1, cells, request_.groove) - first.pulse.length;
      ahead.push_back({from, to - from, 0, -1});
    }
    for (auto& onset : onsets_)
      if (onset.twin >= 0)
        onset.twin += count;
    onsets_.insert(onsets_.begin(), ahead.begin(), ahead.end());
  }

  /// What a slot of the bar was filled with first.
  struct Kept {
    const Cell* cell = nullptr;
    int beats = 0;
    int first_onset = -1;
  };

  const RhythmRequest& request_;
  std::span<const TurnBeat> beats_;
  const Density& density_;
  Chance& chance_;
  std::vector<BeatGroup> groups_;
  std::vector<Kept> motif_; ///< By slot.
  int bar_ = -1;
  bool varies_ = false; ///< Whether that bar varies the motif.
  int repeats_ = -1;
  std::vector<Onset> onsets_;
  int landing_ = 0;
};

} // namespace

std::vector<Onset> make_rhythm(const RhythmRequest& request, Chance& chance) {
  assert(!request.beats.empty() && !request.changes.empty());
  return with_goals(Layer(request, chance).lay(), request);
}

} // namespace landfall::trade
