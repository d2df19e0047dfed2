#include "band/finish.hpp"

#include "band/random.hpp"

#include <algorithm>
#include <tuple>

namespace landfall::band {
namespace {

constexpr int widest_microseconds = 7000;

/// In [-range, range], small values likelier: the mean of two draws.
std::int64_t spread(std::uint64_t draw, std::int64_t range) {
  const auto width = static_cast<std::uint64_t>(2 * range + 1);
  const auto sum = (draw & 0xffffffffu) % width + (draw >> 32) % width;
  return static_cast<std::int64_t>(sum / 2) - range;
}

bool earlier_of_pitch(const Event& a, const Event& b) {
  return std::tuple(a.part, a.note, a.at, -a.velocity) <
         std::tuple(b.part, b.note, b.at, -b.velocity);
}

bool earlier(const Event& a, const Event& b) {
  return std::tuple(a.at, a.part, a.note) < std::tuple(b.at, b.part, b.note);
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
  std::sort(events.begin(), events.end(), earlier_of_pitch);
  std::size_t kept = 0;
  for (const auto& event : events) {
    if (kept > 0) {
      auto& before = events[kept - 1];
      if (before.part == event.part && before.note == event.note) {
        if (before.at == event.at)
          continue;
        before.length = std::min(before.length, event.at - before.at);
      }
    }
    events[kept++] = event;
  }
  events.resize(kept);
  std::sort(events.begin(), events.end(), earlier);
}

void cut_at(std::vector<Event>& events, Part part, Ticks end) {
  std::erase_if(events, [&](const Event& event) { return event.part == part && event.at >= end; });
  for (auto& event : events)
    if (event.part == part)
      event.length = std::min(event.length, end - event.at);
}

} // namespace landfall::band
