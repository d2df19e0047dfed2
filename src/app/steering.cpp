#include "app/steering.hpp"

#include <algorithm>
#include <cstdlib>

namespace landfall::app {
namespace {

constexpr std::chrono::milliseconds decided{70}; ///< Before a beat, what its tempo is to be.
constexpr std::chrono::milliseconds together{1}; ///< Nearer than that is left alone,
constexpr std::int64_t alike = 1000; ///< and a tempo that differs by less than this part.
constexpr std::int64_t give_way = 4; ///< A beat is bent for jitter by this part at the most.
constexpr std::chrono::milliseconds apart{10}; ///< Further than jitter explains.

Tempo tempo_over(Nanoseconds time, Ticks ticks) {
  const auto quarter_time = time.count() * ticks_per_quarter / ticks.count;
  return std::clamp(Tempo{(quarter_time + 500) / 1000}, tempo_from_bpm(max_bpm),
                    tempo_from_bpm(min_bpm));
}

Ticks sixteenth_from(Ticks tick) {
  return sixteenth * (floor_div(tick - Ticks{1}, sixteenth) + 1);
}

/// How much of what is missing is made up for in a stretch that is to last so long.
Nanoseconds made_up(Nanoseconds late, Nanoseconds wanted, bool locked) {
  if (!locked)
    return std::clamp(late, -2 * wanted, wanted / 2);
  if (late < Nanoseconds(apart) && -late < Nanoseconds(apart))
    return std::clamp(late / 2, -wanted / give_way, wanted / give_way);
  return std::clamp(late, -wanted / 2, wanted / 2);
}

/// When the band comes to `tick`: a transport knows of one change of tempo to come, and several may
/// stand between.
TimePoint time_of(Ticks tick, const practice::Timeline& timeline, Transport transport) {
  auto next = timeline.tempo_after(transport.anchor_tick);
  for (; next && next->first < tick; next = timeline.tempo_after(next->first))
    transport = transport.with_tempo(next->first, next->second);
  return transport.time_at(tick);
}

} // namespace

std::optional<Steering::Bend> Steering::bend(const midi::ClockReading& reading,
                                             const practice::Timeline& timeline,
                                             const Transport& transport, Ticks soonest,
                                             Ticks clock_to_us, TimePoint now) {
  const auto& performance = timeline.performance;
  const auto from = reading.locked ? performance.beat_from(soonest) : sixteenth_from(soonest);
  const auto falls = time_of(from, timeline, transport);
  if (from <= done_ || falls - now > decided)
    return std::nullopt;
  done_ = from;
  const auto& clock = reading.line;
  const auto to = reading.locked ? performance.beat_from(from + Ticks{1}) : from + sixteenth;
  const auto late = reading.running ? falls - clock.time_at(from - clock_to_us) : Nanoseconds{};
  const auto held = timeline.tempo_at(from).micros_per_quarter;
  const bool is_near = late < Nanoseconds(together) && -late < Nanoseconds(together);
  if (is_near && std::abs(held - clock.tempo.micros_per_quarter) * alike < held)
    return std::nullopt;
  done_ = to - Ticks{1};
  const auto wanted = duration_of(to - from, clock.tempo);
  return Bend{from, to, tempo_over(wanted - made_up(late, wanted, reading.locked), to - from),
              clock.tempo};
}

} // namespace landfall::app
