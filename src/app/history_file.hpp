#pragma once

#include "practice/history.hpp"
#include "theory/result.hpp"

#include <filesystem>

namespace landfall::app {

/// Where the history of a player profile lies, under the XDG data folder. A name has letters,
/// digits, blanks, - and _; "" is the usual profile.
Result<std::filesystem::path, std::string> history_file(const std::string& profile);

/// By the system's clock.
practice::Instant instant_now();

/// How far the player's clock is ahead of UTC.
std::chrono::minutes minutes_east();

/// The player's own day.
std::chrono::sys_days today();

/// `2026-03-01T12:00:00Z`
std::string iso_text(practice::Instant when);

} // namespace landfall::app
