#pragma once

#include "ear/heard.hpp"
#include "ear/settings.hpp"

#include <span>

namespace landfall::ear {

struct Ground;

/// Whether the arrival itself lands, near the change or held over it, by no bend: then nothing
/// that follows alters the verdict.
bool lands_at_once(const Ground& ground, std::size_t change, std::span<const HeardNote> notes,
                   const Settings& settings);

} // namespace landfall::ear
