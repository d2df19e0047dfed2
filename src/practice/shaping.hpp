#pragma once

#include "practice/choice.hpp"
#include "song/performance.hpp"

#include <vector>

namespace landfall::practice {

/// What of a planned chorus is played in a stretch, in performance ticks. Notes may lie up to
/// `loose` off their places.
std::vector<band::Event> events_in(const song::Stretch& stretch,
                                   const std::vector<band::Event>& chorus, Ticks loose);

/// The tonic and fifth of each bar's key, struck anew every second bar, from `from` on,
/// in performance ticks.
std::vector<band::Event> drone(const song::Stretch& stretch, Ticks from);

/// Takes rests, muted drums, click and levels into account. `first_bar` is the number of bars
/// before the stretch. Drums are muted here since they share a channel with the click.
std::vector<band::Event> arranged(std::vector<band::Event> events, const song::Stretch& stretch,
                                  int first_bar, const Choice& choice);

/// How many bars begin in a stretch.
int bars_in(const song::Stretch& stretch);

} // namespace landfall::practice
