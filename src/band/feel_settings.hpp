#pragma once

#include "band/feel_lines.hpp"

#include <set>

namespace landfall::band {

/// The `name: value` lines at the head of a feel file.
class FeelSettings {
public:
  explicit FeelSettings(Feel& feel) : feel_(feel) {}

  /// Reads one line into the feel; the error, if there is one. Each name may stand once.
  std::optional<TextError> read(Words line);

private:
  std::optional<TextError> set(Words name, Words value);
  std::optional<TextError> set_meter(Words value);
  std::optional<TextError> set_swing(Words value);
  std::optional<TextError> set_sounds(Words value);
  std::optional<TextError> set_opening(Words value);

  Feel& feel_;
  std::set<std::string, std::less<>> seen_;
};

} // namespace landfall::band
