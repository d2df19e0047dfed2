#include "neck/view.hpp"

#include <algorithm>
#include <cstdlib>

namespace landfall::neck {
namespace {

/// A note that the line may take at one chord, and the best way to it.
struct Step {
  NeckNote note;
  int moved = 0;        ///< Half steps so far.
  std::size_t from = 0; ///< Index among the steps of the chord before.
};
using Steps = std::vector<Step>;

/// The chord's guide tones in the position, lowest first; without any, all its tones.
Steps steps_of(const Setting& setting, const theory::Chord& chord) {
  auto notes = view(setting, chord, {.groups = false, .grips = false}).notes;
  std::erase_if(notes, [](const NeckNote& note) { return note.role == Role::set; });
  const auto guide = [](const NeckNote& note) { return note.guide; };
  if (std::any_of(notes.begin(), notes.end(), guide))
    std::erase_if(notes, [&](const NeckNote& note) { return !guide(note); });
  std::stable_sort(notes.begin(), notes.end(),
                   [](const NeckNote& a, const NeckNote& b) { return a.midi < b.midi; });
  Steps steps;
  for (const auto& note : notes)
    steps.push_back({note, 0, 0});
  return steps;
}

void connect(const Steps& before, Steps& now) {
  for (auto& step : now) {
    const auto moved = [&](std::size_t from) {
      return before[from].moved + std::abs(step.note.midi - before[from].note.midi);
    };
    for (std::size_t from = 1; from < before.size(); ++from)
      if (moved(from) < moved(step.from))
        step.from = from;
    step.moved = moved(step.from);
  }
}

} // namespace

std::vector<std::optional<NeckNote>>
guide_line(const Setting& setting, std::span<const std::optional<theory::Chord>> chords) {
  std::vector<Steps> all;
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < chords.size(); ++i) {
    auto steps = chords[i] ? steps_of(setting, *chords[i]) : Steps{};
    if (steps.empty())
      continue;
    if (!all.empty())
      connect(all.back(), steps);
    all.push_back(std::move(steps));
    places.push_back(i);
  }
  std::vector<std::optional<NeckNote>> line(chords.size());
  if (all.empty())
    return line;
  const auto& last = all.back();
  const int twice_middle = last.front().note.midi.number + last.back().note.midi.number;
  const auto off_middle = [&](const Step& step) {
    return std::abs(2 * step.note.midi.number - twice_middle);
  };
  auto at = static_cast<std::size_t>(std::min_element(last.begin(), last.end(),
                                                      [&](const Step& a, const Step& b) {
                                                        return a.moved != b.moved
                                                                   ? a.moved < b.moved
                                                                   : off_middle(a) < off_middle(b);
                                                      }) -
                                     last.begin());
  for (std::size_t i = all.size(); i-- > 0; at = all[i][at].from)
    line[places[i]] = all[i][at].note;
  return line;
}

} // namespace landfall::neck
