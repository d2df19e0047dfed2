#include "ear/timing.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr double grace_ms = 90.0; ///< A note so soon before another is an ornament of it.

/// Parts of a beat; the next beat ends every one.
struct Division {
  std::array<double, 4> parts;
  std::size_t count;
};

/// Nearest part, or the next beat.
double deviation(const Division& division, double at) {
  double best = at - 1.0;
  for (std::size_t i = 0; i < division.count; ++i)
    if (std::abs(at - division.parts[i]) < std::abs(best))
      best = at - division.parts[i];
  return best;
}

double spread(const Division& division, std::span<const double> places) {
  double sum = 0.0;
  for (const double at : places)
    sum += deviation(division, at) * deviation(division, at);
  return std::sqrt(sum / static_cast<double>(places.size()));
}

/// The coarsest that no finer one halves. `swing` is where the feel's second eighth lies.
Division division_of(std::span<const double> places, double swing) {
  const std::array<Division, 5> divisions{{{{0.0}, 1},
                                           {{0.0, swing}, 2},
                                           {{0.0, 0.5}, 2},
                                           {{0.0, 1.0 / 3, 2.0 / 3}, 3},
                                           {{0.0, 0.25, 0.5, 0.75}, 4}}};
  const Division* best = divisions.data();
  for (const auto& division : divisions)
    if (division.count == best->count ? spread(division, places) < spread(*best, places)
                                      : spread(division, places) < spread(*best, places) / 2)
      best = &division;
  return *best;
}

/// Which beat of the ground, by its first tick, and where in it, 0 to 1.
struct Place {
  Ticks beat;
  double at = 0.0;
  double beat_ms = 0.0;
  double swing = 0.5;
};

std::optional<Place> place_of(const Ground& ground, Ticks tick) {
  const auto* span = ground.span_at(tick);
  if (span == nullptr)
    return std::nullopt;
  const auto in_beat = floor_mod(tick - span->bar, span->beat);
  const auto length = duration_of(span->beat, ground.tempo.tempo_at(tick));
  return Place{tick - in_beat,
               static_cast<double>(in_beat.count) / static_cast<double>(span->beat.count),
               static_cast<double>(length.count()) / 1e6, span->swing};
}

bool is_ornament(const Ground& ground, std::span<const HeardNote> notes, std::size_t index) {
  const auto& note = notes[index];
  const auto tempo = ground.tempo.tempo_at(note.on);
  if (!note.bends.empty() && !pitches_of(note, index, tempo).front().settled)
    return true;
  const auto soon = note.on + ticks_of_ms(grace_ms, tempo);
  const auto apart = note.on + ticks_of_ms(40.0, tempo);
  for (auto next = index + 1; next < notes.size() && notes[next].on <= soon; ++next)
    if (notes[next].on > apart)
      return true;
  return false;
}

} // namespace

std::vector<std::optional<double>> deviations_ms(const Ground& ground,
                                                 std::span<const HeardNote> notes) {
  std::vector<std::optional<double>> result(notes.size());
  std::vector<std::optional<Place>> places(notes.size());
  for (std::size_t i = 0; i < notes.size(); ++i)
    if (!is_ornament(ground, notes, i))
      places[i] = place_of(ground, notes[i].on);
  for (std::size_t first = 0; first < notes.size();) {
    if (!places[first]) {
      ++first;
      continue;
    }
    std::vector<double> inside;
    auto last = first;
    for (; last < notes.size() && (!places[last] || places[last]->beat == places[first]->beat);
         ++last)
      if (places[last])
        inside.push_back(places[last]->at);
    const auto division = division_of(inside, places[first]->swing);
    for (auto i = first; i < last; ++i)
      if (places[i])
        result[i] = deviation(division, places[i]->at) * places[i]->beat_ms;
    first = last;
  }
  return result;
}

} // namespace landfall::ear
