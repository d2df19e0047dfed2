#pragma once

#include "band/chorus.hpp"

namespace landfall::band {

/// One part of a chorus, in order. Notes of equal pitch may still touch or overlap.
std::vector<Event> plan_drums(const Chorus& chorus, const Harmony& harmony);
std::vector<Event> plan_bass(const Chorus& chorus, const Harmony& harmony);
std::vector<Event> plan_comping(const Chorus& chorus, const Harmony& harmony);

} // namespace landfall::band
