#include "ear/window.hpp"

#include "ear/sounding.hpp"

#include <algorithm>

namespace landfall::ear {
namespace {

constexpr double early_ms = 40.0, least_late_ms = 80.0, most_late_ms = 250.0;
constexpr double slack_ms = 60.0; ///< For a chord to be complete, and a ghost to be known.

Ticks early_side(Tempo tempo, const Settings& settings) {
  return settings.window + ticks_of_ms(early_ms, tempo);
}

Ticks middle(Ticks a, Ticks b) {
  return a + (b - a) / 2;
}

} // namespace

Window window_of(const Ground& ground, std::size_t index, const Settings& settings) {
  const auto at = ground.changes[index].at;
  const auto tempo = ground.tempo.tempo_at(at);
  Window window{at - early_side(tempo, settings),
                at + std::clamp(settings.window, ticks_of_ms(least_late_ms, tempo),
                                ticks_of_ms(most_late_ms, tempo))};
  if (index > 0)
    window.from = std::max(window.from, middle(ground.changes[index - 1].at, at));
  if (index + 1 < ground.changes.size())
    window.to = std::min(window.to, middle(at, ground.changes[index + 1].at) - Ticks{1});
  return window;
}

Ticks latest_of(const Ground& ground, std::size_t index, const Settings& settings) {
  const auto& change = ground.changes[index];
  const auto latest = change.at + ground.spans[change.span].beat;
  if (index + 1 == ground.changes.size())
    return latest;
  return std::min(latest, window_of(ground, index + 1, settings).from - Ticks{1});
}

Ticks soonest_final(const Ground& ground, const Change& change) {
  const auto tempo = ground.tempo.tempo_at(change.at);
  return change.at + std::max(sixteenth * 2, sixteenth + ticks_of_ms(settling_ms + 40.0, tempo));
}

Ticks final_at(const Ground& ground, const Change& change, const Settings& settings) {
  const auto tempo = ground.tempo.tempo_at(change.at);
  const auto beat = ground.spans[change.span].beat;
  const auto next_known = std::min(beat * 2, beat + early_side(tempo, settings));
  return change.at +
         std::max({next_known, ticks_of_ms(2 * most_late_ms, tempo),
                   beat + ticks_of_ms(settling_ms, tempo)}) +
         ticks_of_ms(slack_ms, tempo);
}

std::optional<std::size_t> coming_change(const Ground& ground, Ticks at, const Settings& settings) {
  const auto next = std::ranges::upper_bound(ground.changes, at, {}, &Change::at);
  if (next == ground.changes.end())
    return std::nullopt;
  const auto index = static_cast<std::size_t>(next - ground.changes.begin());
  return at >= window_of(ground, index, settings).from ? std::optional(index) : std::nullopt;
}

} // namespace landfall::ear
