#pragma once

#include "band/event.hpp"
#include "band/feel.hpp"
#include "song/form.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace landfall::band {

/// What the planner may ask for: the feel of this name, or nullptr.
class FeelBook {
public:
  virtual ~FeelBook() = default;
  virtual const Feel* find(std::string_view name) const = 0;
};

/// All that a plan depends on: equal requests give equal plans.
struct Request {
  const song::Form* form = nullptr; ///< This chorus.
  const song::Form* next = nullptr; ///< The one that follows, to lead into; null at the end.
  int chorus = 0;                   ///< From 0; varies the patterns.
  std::uint64_t seed = 1;
  double intensity = 0.5; ///< Quiet 0 to full 1.
  bool humanised = false; ///< A few milliseconds and some velocity, from the seed.
  bool ending = false;    ///< Close the song in this chorus's last bars.
};

/// Plans one chorus: sorted by tick, then part, then note. No two notes of equal part and pitch
/// overlap. Pure.
std::vector<Event> plan_chorus(const Request& request, const FeelBook& feels);

/// The count-in before a form: clicks that suit its feel, and what of the pick-up falls into it,
/// at ticks below 0.
std::vector<Event> plan_count_in(const song::Form& form, int bars, const FeelBook& feels);

} // namespace landfall::band
