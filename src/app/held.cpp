#include "app/held.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

Ticks performed(const song::Stretch& stretch, Ticks form_tick) {
  return stretch.start + (form_tick - stretch.from);
}

bool holds(const song::Stretch& stretch, Ticks form_tick) {
  return form_tick >= stretch.from && form_tick < stretch.to;
}

bool same(const std::optional<theory::Chord>& a, const std::optional<theory::Chord>& b) {
  return a.has_value() == b.has_value() && (!a || same_tones(*a, *b));
}

} // namespace

std::vector<Ticks> chord_steps(const song::Stretch& stretch) {
  std::vector<Ticks> steps{stretch.start};
  const song::ChordAt* last = &chord_at(*stretch.form, stretch.from);
  for (const auto& bar : stretch.form->bars)
    for (const auto& change : bar.chords) {
      const auto at = bar.start + change.at;
      if (!holds(stretch, at) || same(last->chord, change.chord))
        continue;
      steps.push_back(performed(stretch, at));
      last = &change;
    }
  return steps;
}

std::vector<Ticks> beat_steps(const song::Stretch& stretch) {
  std::vector<Ticks> steps;
  for (const auto& bar : stretch.form->bars)
    for (Ticks at = bar.start; at < bar.start + bar_length(bar.meter); at += beat_length(bar.meter))
      if (holds(stretch, at))
        steps.push_back(performed(stretch, at));
  return steps;
}

Ticks step_at(const std::vector<Ticks>& steps, Ticks at) {
  const auto after = std::upper_bound(steps.begin(), steps.end(), at);
  return after == steps.begin() ? steps.front() : *std::prev(after);
}

Ticks stepped(const std::vector<Ticks>& steps, Ticks at, int by) {
  const auto count = static_cast<std::ptrdiff_t>(steps.size());
  const auto present = std::upper_bound(steps.begin(), steps.end(), at) - steps.begin() - 1;
  return steps[static_cast<std::size_t>(((present + by) % count + count) % count)];
}

Ticks bar_line_before(const song::Stretch& stretch, Ticks at) {
  Ticks line = stretch.start;
  for (const auto& bar : stretch.form->bars)
    if (holds(stretch, bar.start) && performed(stretch, bar.start) <= at)
      line = performed(stretch, bar.start);
  return line;
}

Ticks held_at(const song::Stretch& stretch, const song::Moment& moment) {
  if (!holds(stretch, moment.form_tick))
    return stretch.start;
  return step_at(beat_steps(stretch), performed(stretch, moment.form_tick));
}

} // namespace landfall::app
