#pragma once

#include <string_view>

namespace landfall::midi {

inline constexpr int program_count = 128;

/// The sound that General MIDI Level 1 has for a program, 0 to 127.
std::string_view program_name(int program);

} // namespace landfall::midi
