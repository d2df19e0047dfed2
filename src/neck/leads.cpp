#include "neck/view.hpp"

#include <cstdlib>
#include <tuple>

namespace landfall::neck {
namespace {

Motion motion_of(int half_steps) {
  switch (std::abs(half_steps)) {
  case 0:
    return Motion::common_tone;
  case 1:
    return Motion::half_step;
  case 2:
    return Motion::whole_step;
  default:
    return Motion::leap;
  }
}

Lead nearest(std::size_t from, const NeckNote& note, std::span<const NeckNote> coming) {
  const auto rank = [&](std::size_t to) {
    const int distance = coming[to].midi - note.midi;
    return std::tuple(std::abs(distance), !coming[to].guide, distance, to);
  };
  std::size_t best = 0;
  for (std::size_t to = 1; to < coming.size(); ++to)
    if (rank(to) < rank(best))
      best = to;
  const int distance = coming[best].midi - note.midi;
  return {from, best, distance, motion_of(distance)};
}

} // namespace

std::vector<Lead> leads(std::span<const NeckNote> present, std::span<const NeckNote> coming) {
  std::vector<Lead> all;
  if (coming.empty())
    return all;
  all.reserve(present.size());
  for (std::size_t from = 0; from < present.size(); ++from)
    all.push_back(nearest(from, present[from], coming));
  return all;
}

} // namespace landfall::neck
