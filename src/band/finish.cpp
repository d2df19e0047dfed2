#include "band/finish.hpp"

#include "time/random.hpp"

#include <algorithm>
#include <array>

namespace landfall::band {
namespace {

constexpr int widest_microseconds = 7000;

/// In [-range, range], small values likelier: the mean of two draws.
std::int64_t spread(std::uint64_t draw, std::int64_t range) {
  const auto width = static_cast<std::uint64_t>(2 * range + 1);
  const auto sum = (draw & 0xffffffffu) % width + (draw >> 32) % width;
  return static_cast<std::int64_t>(sum / 2) - range;
}

/// Orders by tick, part and note; of equal ones the loudest first.
std::uint64_t rank(const Event& event) {
  constexpr std::int64_t far_before = std::int64_t{1} << 40;
  const auto at = static_cast<std::uint64_t>(event.at.count + far_before);
  const auto part = static_cast<std::uint64_t>(event.part);
  const auto note = static_cast<std::uint64_t>(event.note.number & 127);
  return at << 16 | part << 14 | note << 7 | static_cast<std::uint64_t>(127 - event.velocity);
}

/// Sorting small keys instead of events takes half the time.
void sort(std::vector<Event>& events) {
  struct Place {
    std::uint64_t rank;
    std::uint32_t index;
  };
  std::vector<Place> places;
  places.reserve(events.size());
  for (std::uint32_t i = 0; i < events.size(); ++i)
    places.push_back({rank(events[i]), i});
  std::sort(places.begin(), places.end(), [](const Place& a, const Place& b) {
    return a.rank != b.rank ? a.rank < b.rank : a.index < b.index;
  });
  std::vector<Event> sorted;
  sorted.reserve(events.size());
  for (const auto& place : places)
    sorted.push_back(events[place.index]);
  events = std::move(sorted);
}

} // namespace

Ticks loosest(const song::Form& form) {
  const auto in_quarter = std::max<std::int64_t>(form.tempo.micros_per_quarter, 1);
  return {widest_microseconds * ticks_per_quarter / in_quarter};
}

void humanise(std::vector<Event>& events, const Request& request) {
  const auto range = loosest(*request.form).count;
  for (auto& event : events) {
    const auto draw =
        drawn({request.seed, static_cast<std::uint64_t>(request.chorus),
               static_cast<std::uint64_t>(event.at.count), static_cast<std::uint64_t>(event.part),
               event.part == Part::drums ? static_cast<std::uint64_t>(event.note.number) : 0});
    event.at += Ticks{spread(draw, range)};
    const auto louder = spread(drawn({draw, static_cast<std::uint64_t>(event.note.number)}), 7);
    event.velocity = std::clamp(event.velocity + static_cast<int>(louder), 1, 127);
  }
}

void untangle(std::vector<Event>& events) {
  constexpr std::size_t none = static_cast<std::size_t>(-1);
  std::array<std::array<std::size_t, 128>, all_parts.size()> latest;
  for (auto& notes : latest)
    notes.fill(none);
  sort(events);
  std::size_t kept = 0;
  for (const auto& event : events) {
    auto& last = latest[static_cast<std::size_t>(event.part)]
                       [static_cast<std::size_t>(event.note.number) % 128];
    if (last != none && events[last].at == event.at)
      continue;
    if (last != none)
      events[last].length = std::min(events[last].length, event.at - events[last].at);
    last = kept;
    events[kept++] = event;
  }
  events.resize(kept);
}

void cut_at(std::vector<Event>& events, Part part, Ticks end) {
  std::erase_if(events, [&](const Event& event) { return event.part == part && event.at >= end; });
  for (auto& event : events)
    if (event.part == part)
      event.length = std::min(event.length, end - event.at);
}

} // namespace landfall::band
