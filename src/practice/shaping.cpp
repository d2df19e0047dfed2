#include "practice/shaping.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::practice {
namespace {

using band::Event;
using band::Part;

/// A bar as it is played.
struct PlayedBar {
  const song::Bar* bar;
  Ticks at;
  Ticks end;
};

std::vector<PlayedBar> played_bars(const song::Stretch& stretch) {
  std::vector<PlayedBar> bars;
  for (const auto& bar : stretch.form->bars) {
    const auto at = stretch.start + (bar.start - stretch.from);
    if (bar.start >= stretch.from && bar.start < stretch.to)
      bars.push_back({&bar, at, std::min(at + bar_length(bar.meter), stretch.end())});
  }
  return bars;
}

/// Empties a bar. What leads from it into the next one stays, what rings into it ends.
void silence(std::vector<Event>& events, const PlayedBar& bar) {
  std::erase_if(events, [&](const Event& event) {
    return event.part != Part::click && event.at >= bar.at && event.at < bar.end &&
           event.at + event.length <= bar.end;
  });
  for (auto& event : events)
    if (event.part != Part::click && event.at < bar.at)
      event.length = std::min(event.length, bar.at - event.at);
}

void click(std::vector<Event>& events, const PlayedBar& bar, Click kind) {
  constexpr theory::MidiNote high{76}, low{77}; // wood blocks of General MIDI percussion
  const auto beat = beat_length(bar.bar->meter);
  for (int i = 0; bar.at + beat * i < bar.end; ++i)
    if (kind == Click::beats || (kind == Click::backbeats && i % 2 == 1))
      events.push_back({bar.at + beat * i, sixteenth, Part::click,
                        kind == Click::beats && i == 0 ? high : low, i == 0 ? 96 : 80});
}

} // namespace

std::vector<Event> events_in(const song::Stretch& stretch, const std::vector<Event>& chorus,
                             Ticks loose) {
  std::vector<Event> events;
  const auto shift = stretch.start - stretch.from;
  const bool whole = stretch.to == stretch.form->length;
  for (auto event : chorus) {
    const bool anticipates =
        event.at < Ticks{} && stretch.from == Ticks{} && stretch.start > Ticks{};
    const bool late = event.at >= (whole ? stretch.to : stretch.to - loose);
    if (!anticipates && (event.at < stretch.from - loose || late))
      continue;
    event.at = std::max(event.at + shift, Ticks{});
    event.length = std::min(event.length, stretch.end() - event.at);
    events.push_back(event);
  }
  return events;
}

std::vector<Event> drone(const song::Stretch& stretch, Ticks from) {
  constexpr int lowest_bass = 36, lowest_chord = 48;
  std::vector<Event> events;
  auto bars = played_bars(stretch);
  std::erase_if(bars, [&](const PlayedBar& bar) { return bar.end <= from; });
  for (std::size_t i = 0; i < bars.size();) {
    bars[i].at = std::max(bars[i].at, from);
    const bool two = i + 1 < bars.size() && bars[i + 1].bar->key == bars[i].bar->key;
    const auto length = bars[two ? i + 1 : i].end - bars[i].at;
    const int tonic = pitch_class(bars[i].bar->key.tonic);
    events.push_back({bars[i].at, length, Part::bass, {lowest_bass + tonic}, 64});
    events.push_back({bars[i].at, length, Part::comping, {lowest_chord + tonic}, 58});
    events.push_back({bars[i].at, length, Part::comping, {lowest_chord + tonic + 7}, 52});
    i += two ? 2 : 1;
  }
  return events;
}

std::vector<Event> arranged(std::vector<Event> events, const song::Stretch& stretch, int first_bar,
                            const Choice& choice) {
  const auto& chosen = choice.arrangement;
  if (choice.muted[static_cast<std::size_t>(Part::drums)])
    std::erase_if(events, [](const Event& event) { return event.part == Part::drums; });
  for (auto number = first_bar; const auto& bar : played_bars(stretch)) {
    const bool resting = rests(chosen.drop_outs, number++);
    if (resting && !chosen.drone)
      silence(events, bar);
    if (!resting)
      click(events, bar, chosen.click);
    else if (chosen.drop_outs.click)
      click(events, bar, chosen.click == Click::off ? Click::beats : chosen.click);
  }
  for (auto& event : events) {
    const long percent = chosen.level[static_cast<std::size_t>(event.part)];
    event.velocity = static_cast<int>(std::clamp((event.velocity * percent + 50) / 100, 1L, 127L));
  }
  std::stable_sort(events.begin(), events.end(),
                   [](const Event& a, const Event& b) { return a.at < b.at; });
  return events;
}

int bars_in(const song::Stretch& stretch) {
  return static_cast<int>(std::count_if(
      stretch.form->bars.begin(), stretch.form->bars.end(),
      [&](const song::Bar& bar) { return bar.start >= stretch.from && bar.start < stretch.to; }));
}

} // namespace landfall::practice
