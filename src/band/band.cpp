#include "band/band.hpp"

#include "band/finish.hpp"
#include "band/parts.hpp"
#include "band/strikes.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

/// Where the last chord of an ending falls: there the song comes home.
Ticks last_strike(const Chorus& chorus) {
  const auto comping = strikes(chorus, Part::comping);
  return comping.empty() ? chorus.bars.back().bar->start : std::max(comping.back().at, Ticks{0});
}

void append(std::vector<Event>& events, std::vector<Event> more) {
  events.insert(events.end(), more.begin(), more.end());
}

/// Where the next chorus's push begins, or this one ends.
Ticks end_for(Part part, const Request& request, const FeelBook& feels) {
  if (request.next == nullptr || request.next->bars.empty())
    return request.form->length;
  Request next = request;
  next.form = request.next;
  next.next = nullptr;
  next.chorus = request.chorus + 1;
  next.ending = false;
  return request.form->length + push_before_top(next, feels, part);
}

/// Humanised notes may come early: what they would meet ends earlier still.
void make_room(std::vector<Event>& events, const Chorus& chorus) {
  const Ticks margin = chorus.request.humanised ? loosest(*chorus.request.form) : Ticks{0};
  cut_at(events, Part::drums, chorus.request.form->length - margin);
  cut_at(events, Part::bass, chorus.bass_end - margin);
  cut_at(events, Part::comping, chorus.comping_end - margin);
}

} // namespace

std::vector<Event> plan_chorus(const Request& request, const FeelBook& feels) {
  if (request.form == nullptr || request.form->bars.empty())
    return {};
  auto chorus = laid_out(request, feels);
  chorus.bass_end = end_for(Part::bass, request, feels);
  chorus.comping_end = end_for(Part::comping, request, feels);
  const auto home = home_chord(*request.form);
  Harmony harmony(*request.form, request.next);
  if (request.ending)
    harmony.end_with(home, last_strike(chorus));
  std::vector<Event> events = plan_drums(chorus, harmony);
  append(events, plan_bass(chorus, harmony));
  append(events, plan_comping(chorus, harmony));
  if (request.humanised)
    humanise(events, request);
  make_room(events, chorus);
  untangle(events);
  return events;
}

} // namespace landfall::band
