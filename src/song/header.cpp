#include "song/header.hpp"

#include "song/diagnostic.hpp"

#include <array>
#include <charconv>
#include <utility>

namespace landfall::song {

std::optional<Header> header_named(std::string_view name) {
  static constexpr std::array<std::pair<std::string_view, Header>, 9> names{{
      {"title", Header::title},
      {"key", Header::key},
      {"meter", Header::meter},
      {"metre", Header::meter},
      {"time", Header::meter},
      {"tempo", Header::tempo},
      {"feel", Header::feel},
      {"trains", Header::trains},
      {"form", Header::form},
  }};
  const std::string wanted = lower_case(name);
  for (const auto& [known, header] : names)
    if (known == wanted)
      return header;
  return {};
}

Result<Meter> parse_meter(std::string_view text) {
  const auto found = quoted(text) + " is no metre: expected ";
  const char* const end = text.data() + text.size();
  Meter meter;
  const auto upper = std::from_chars(text.data(), end, meter.beats);
  if (upper.ec != std::errc{} || meter.beats < 1 || meter.beats > 16)
    return TextError{found + "1 to 16 beats in front of the slash, as in 3/4", 1};
  if (upper.ptr == end || *upper.ptr != '/')
    return TextError{found + "a slash after the beats, as in 3/4",
                     static_cast<int>(upper.ptr - text.data()) + 1};
  const auto lower = std::from_chars(upper.ptr + 1, end, meter.unit);
  const bool unit = meter.unit == 2 || meter.unit == 4 || meter.unit == 8 || meter.unit == 16;
  if (lower.ec != std::errc{} || lower.ptr != end || !unit)
    return TextError{found + "2, 4, 8 or 16 behind the slash",
                     static_cast<int>(upper.ptr - text.data()) + 2};
  return meter;
}

Result<double> parse_beats_per_minute(std::string_view text) {
  std::string_view number = text;
  if (lower_case(number).ends_with("bpm"))
    number = trimmed(number.substr(0, number.size() - 3));
  double value = 0;
  const char* const end = number.data() + number.size();
  const auto read = std::from_chars(number.data(), end, value, std::chars_format::fixed);
  if (read.ec != std::errc{} || read.ptr != end || !(value > 0 && value < 10'000))
    return TextError{quoted(text) + " is no tempo: expected beats a minute, as in 84", 1};
  return value;
}

Result<std::string> parse_feel_name(std::string_view text) {
  std::string name = lower_case(text);
  for (std::size_t i = 0; i < name.size(); ++i) {
    const char c = name[i];
    if (c == ' ')
      name[i] = '-';
    else if (!((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'))
      return TextError{"a feel's name has letters, digits and hyphens: expected one as in "
                       "straight-eighths",
                       static_cast<int>(i) + 1};
  }
  if (name.size() > 64)
    return TextError{"a feel's name has at most 64 letters", 65};
  return name;
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos)
    return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string lower_case(std::string_view text) {
  std::string result(text);
  for (char& c : result)
    c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return result;
}

} // namespace landfall::song
