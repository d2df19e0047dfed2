#include "trade/rhythm_goals.hpp"

#include "trade/rhythm_choice.hpp"

#include <algorithm>

namespace landfall::trade {
namespace {

Ticks end_of(const Onset& onset) {
  return onset.start + onset.length;
}

/// Twins stay right when an onset comes or goes at `index`.
void shift_twins(std::vector<Onset>& onsets, int index, int by) {
  for (auto& onset : onsets) {
    if (by < 0 && onset.twin == index)
      onset.twin = -1;
    else if (onset.twin >= index)
      onset.twin += by;
  }
}

int beat_of(std::span<const TurnBeat> beats, Ticks tick) {
  int index = -1;
  for (const auto& beat : beats)
    if (beat.pulse.start <= tick)
      ++index;
  return index;
}

int weight_at(std::span<const TurnBeat> beats, Ticks tick) {
  for (const auto& beat : beats)
    if (beat.pulse.start == tick)
      return beat.weight;
  return 0;
}

/// Lands at a change: the note at it, one held into it, or a new one where the line goes on.
void land_at(std::vector<Onset>& onsets, Ticks change, int chord, const RhythmRequest& request) {
  const auto next = std::find_if(onsets.begin(), onsets.end(),
                                 [&](const Onset& onset) { return onset.start >= change; });
  if (next != onsets.end() && next->start == change) {
    next->goal = true;
    return;
  }
  const int beat = beat_of(request.beats, change);
  const auto reach = request.beats[static_cast<std::size_t>(beat)].pulse.length;
  if (next == onsets.begin() || next == onsets.end())
    return; // before it begins, or after it has ended
  const auto previous = next - 1;
  if (previous->start >= change - reach / 2 && end_of(*previous) > change) {
    previous->goal = true;
    previous->chord = chord;
    return;
  }
  if (previous->goal && end_of(*previous) < change && next->start - change >= reach)
    return; // a breath
  const auto index = static_cast<int>(next - onsets.begin());
  shift_twins(onsets, index, 1);
  Onset landing{
      change, std::min(next->start - change, reach), weight_at(request.beats, change), beat, true,
      chord};
  onsets.insert(onsets.begin() + index, landing);
}

/// Of two that are too near each other the one that is no goal goes; of two alike the earlier.
void thin(std::vector<Onset>& onsets, Ticks gap) {
  for (std::size_t i = 0; i + 1 < onsets.size();) {
    if (onsets[i + 1].start - onsets[i].start >= gap) {
      ++i;
      continue;
    }
    const auto gone = onsets[i].goal && !onsets[i + 1].goal ? i + 1 : i;
    onsets.erase(onsets.begin() + static_cast<std::ptrdiff_t>(gone));
    shift_twins(onsets, static_cast<int>(gone), -1);
    i = gone > 0 ? gone - 1 : 0;
  }
}

int chord_at(std::span<const Ticks> changes, Ticks tick) {
  int index = -1;
  for (const auto change : changes)
    if (change <= tick)
      ++index;
  return std::max(index, 0);
}

} // namespace

std::vector<Onset> with_goals(std::vector<Onset> onsets, const RhythmRequest& request) {
  if (onsets.empty())
    return onsets;
  for (auto& onset : onsets)
    onset.chord = -1;
  // a landing pushed ahead of its beat is heard against the beat's chord
  if (auto& last = onsets.back(); last.beat >= 0)
    last.chord = chord_at(
        request.changes,
        std::max(last.start, request.beats[static_cast<std::size_t>(last.beat)].pulse.start));
  for (std::size_t k = 1; k < request.changes.size(); ++k)
    land_at(onsets, request.changes[k], static_cast<int>(k), request);
  thin(onsets, least_gap(*request.density, request.tempo));
  for (std::size_t i = 0; i < onsets.size(); ++i) {
    if (onsets[i].chord < 0)
      onsets[i].chord = chord_at(request.changes, onsets[i].start);
    if (i + 1 < onsets.size())
      onsets[i].length = std::min(onsets[i].length, onsets[i + 1].start - onsets[i].start);
  }
  return onsets;
}

} // namespace landfall::trade
