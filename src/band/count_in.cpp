#include "band/band.hpp"
#include "band/finish.hpp"
#include "band/kit.hpp"
#include "band/pickup.hpp"
#include "band/strikes.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

constexpr int most_bars = 8;
constexpr double count_in_intensity = 0.6;

/// A bar of clicks, from the feel's rows; `left` bars before the top, from 1.
void click_bar(std::vector<Event>& events, const song::Bar& bar, const Feel& feel, int left) {
  BarPlan plan;
  plan.bar = &bar;
  plan.feel = &feel;
  plan.pulses = pulses(bar.meter);
  plan.feel_beats = static_cast<int>(pulses(feel.meter).size());
  plan.beats = beats_for(plan.feel_beats, static_cast<int>(plan.pulses.size()));
  for (const auto& row : feel.count_in) {
    const auto count = static_cast<int>(row.cells.bars.size());
    const auto& cells = row.cells.bars[static_cast<std::size_t>(std::max(0, count - left))];
    lay(cells, plan.feel_beats, plan, [&](Ticks at, Ticks, char letter) {
      if (letter != '.')
        events.push_back(
            {at, sixteenth, Part::click, row.note, velocity_of(letter, 100, count_in_intensity)});
    });
  }
}

} // namespace

std::vector<Event> plan_count_in(const song::Form& form, int bars, const FeelBook& feels) {
  std::vector<Event> events;
  if (form.bars.empty())
    return events;
  const auto& first = form.bars.front();
  const auto* found = feels.find(first.feel);
  if (found == nullptr)
    found = feels.find(form.feel);
  const Feel& feel = found == nullptr || found->count_in.empty() ? plain_feel() : *found;
  Ticks start{0};
  const int count = std::clamp(bars, 0, most_bars);
  for (int left = 1; left <= count; ++left) {
    const auto pickup = static_cast<int>(form.pickup.size()) - left;
    song::Bar bar = pickup >= 0 ? form.pickup[static_cast<std::size_t>(pickup)] : first;
    start = pickup >= 0 ? bar.start : start - song::bar_length(bar.meter);
    bar.start = start;
    click_bar(events, bar, feel, left);
  }
  for (const auto& event : plan_pickup(form, feel))
    if (event.at >= start)
      events.push_back(event);
  untangle(events);
  return events;
}

} // namespace landfall::band
