#pragma once

#include "song/song.hpp"

#include <string_view>

namespace landfall::song {

/// What a named line can set.
enum class Header : std::uint8_t { title, key, meter, tempo, feel, trains, form };

/// By name in any case; `metre` and `time` are read as meter. None for other names.
std::optional<Header> header_named(std::string_view name);

/// The names, for messages.
inline constexpr std::string_view header_names = "title, key, meter, tempo, feel, trains or form";

/// `3/4`: beats from 1 to 16, unit 2, 4, 8 or 16.
Result<Meter> parse_meter(std::string_view text);

/// Beats a minute, with or without `bpm` after the number.
Result<double> parse_beats_per_minute(std::string_view text);

/// A feel's name as files have it: lower case, hyphens for blanks.
Result<std::string> parse_feel_name(std::string_view text);

/// Without the blanks around it.
std::string_view trimmed(std::string_view text);

/// ASCII letters in lower case.
std::string lower_case(std::string_view text);

} // namespace landfall::song
