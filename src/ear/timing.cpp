#include "ear/timing.hpp"

#include "ear/sounding.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr double grace_ms = 70.0;    ///< A note so soon before another is an ornament of it.
constexpr double slide_ms = 80.0;    ///< Slurred notes that follow so soon are a slide.
constexpr double clearly = 1.0 / 24; ///< Of a beat: by so much a finer division must fit better.
constexpr double crowded = 0.25;     ///< What two strikes on one part add.

/// Parts of a beat. The coarser stand first.
struct Division {
  std::array<double, 6> parts;
  std::size_t count;
};

constexpr double third = 1.0 / 3, sixth = 1.0 / 6;

std::array<Division, 4> divisions_of(bool compound, double swing) {
  if (compound)
    return {{{{0.0, third, 2 * third}, 3},
             {{0.0, 0.5}, 2},
             {{0.0, 0.25, 0.5, 0.75}, 4},
             {{0.0, sixth, third, 0.5, 2 * third, 5 * sixth}, 6}}};
  return {{{{0.0, swing}, 2},
           {{0.0, 0.5}, 2},
           {{0.0, third, 2 * third}, 3},
           {{0.0, 0.25, 0.5, 0.75}, 4}}};
}

std::size_t nearest(const Division& division, double at) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < division.count; ++i)
    if (std::abs(at - division.parts[i]) < std::abs(at - division.parts[best]))
      best = i;
  return best;
}

/// How far the places lie off in the mean, in beats.
double misfit(const Division& division, std::span<const double> places) {
  double sum = 0.0;
  std::size_t last = division.count;
  for (const double at : places) {
    const auto part = nearest(division, at);
    sum += std::abs(at - division.parts[part]) + (part == last ? crowded : 0.0);
    last = part;
  }
  return sum / static_cast<double>(places.size());
}

Division division_of(std::span<const double> places, bool compound, double swing) {
  const auto divisions = divisions_of(compound, swing);
  const auto* best = divisions.data();
  for (const auto& division : divisions)
    if (misfit(division, places) + clearly < misfit(*best, places))
      best = &division;
  return *best;
}

/// Which beat a strike belongs to, and where in it, -1/8 to 7/8.
struct Place {
  Ticks beat;
  double at = 0.0;
  Ticks length = quarter;
  double swing = 0.5;
};

std::optional<Place> place_of(const Ground& ground, Ticks tick) {
  const auto* span = ground.span_at(tick);
  if (span == nullptr)
    return std::nullopt;
  const bool compound = floor_mod(span->beat, sixteenth * 3) == Ticks{}; // dotted
  const auto beat = compound ? span->beat : std::min(span->beat, quarter);
  const auto early = compound ? beat / 12 : beat / 8;
  const auto in_beat = floor_mod(tick - span->bar + early, beat) - early;
  return Place{tick - in_beat, static_cast<double>(in_beat.count) / static_cast<double>(beat.count),
               beat, compound ? 0.0 : span->swing};
}

class Timing {
public:
  Timing(const Ground& ground, const Line& line) : ground_(ground), line_(line) {
    places_.resize(line.size());
    for (std::size_t i = 0; i < line.size(); ++i)
      if (!is_ornament(i))
        places_[i] = place_of(ground, line[i].at);
  }

  std::vector<std::optional<double>> deviations() const {
    std::vector<std::optional<double>> result(line_.size());
    std::vector<double> inside;
    for (std::size_t first = 0, last = 0; first < line_.size(); first = last) {
      last = first + 1;
      if (!places_[first])
        continue;
      inside.assign(1, places_[first]->at);
      for (; last < line_.size() && (!places_[last] || places_[last]->beat == places_[first]->beat);
           ++last)
        if (places_[last])
          inside.push_back(places_[last]->at);
      const bool compound = places_[first]->swing == 0.0;
      const auto division = division_of(inside, compound, places_[first]->swing);
      for (auto i = first; i < last; ++i)
        if (places_[i])
          result[i] = deviation_ms(division, *places_[i], line_[i].at);
    }
    return result;
  }

private:
  double deviation_ms(const Division& division, const Place& place, Ticks at) const {
    const double off = place.at - division.parts[nearest(division, place.at)];
    const auto meant = at - Ticks{std::llround(off * static_cast<double>(place.length.count))};
    const auto late = ground_.tempo.time_at(at) - ground_.tempo.time_at(meant);
    return static_cast<double>(late.count()) / 1e6;
  }

  bool is_ornament(std::size_t strike) const {
    const auto at = line_[strike].at;
    const auto tempo = ground_.tempo.tempo_at(at);
    const auto soon = std::min(ticks_of_ms(grace_ms, tempo), sixteenth * 3 / 4);
    if (strike + 1 < line_.size() && line_[strike + 1].at - at < soon)
      return true;
    const auto& note = line_.note(line_.notes_of(strike).front());
    return strike > 0 && note.slurred && at - line_[strike - 1].at < ticks_of_ms(slide_ms, tempo);
  }

  const Ground& ground_;
  const Line& line_;
  std::vector<std::optional<Place>> places_;
};

} // namespace

std::vector<std::optional<double>> deviations_ms(const Ground& ground, const Line& line) {
  return Timing(ground, line).deviations();
}

} // namespace landfall::ear
