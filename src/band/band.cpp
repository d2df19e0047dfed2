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

/// Leaves room for the next chorus's own pushes.
void make_room(std::vector<Event>& events, const Request& request, const FeelBook& feels) {
  const Ticks end = request.form->length;
  const Ticks margin = request.humanised ? sixteenth / 8 : Ticks{0};
  cut_at(events, Part::drums, end - margin);
  for (const auto part : {Part::bass, Part::comping}) {
    Ticks from{0};
    if (request.next != nullptr && !request.next->bars.empty()) {
      Request next = request;
      next.form = request.next;
      next.next = nullptr;
      next.chorus = request.chorus + 1;
      next.ending = false;
      from = push_before_top(next, feels, part);
    }
    cut_at(events, part, end + from - margin);
  }
}

} // namespace

std::vector<Event> plan_chorus(const Request& request, const FeelBook& feels) {
  if (request.form == nullptr || request.form->bars.empty())
    return {};
  const auto chorus = laid_out(request, feels);
  const auto home = home_chord(*request.form);
  Harmony harmony(*request.form, request.next);
  if (request.ending)
    harmony.end_with(home, last_strike(chorus));
  std::vector<Event> events = plan_drums(chorus, harmony);
  append(events, plan_bass(chorus, harmony));
  append(events, plan_comping(chorus, harmony));
  if (request.humanised)
    humanise(events, request);
  make_room(events, request, feels);
  untangle(events);
  return events;
}

} // namespace landfall::band
