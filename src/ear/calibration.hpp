#pragma once

#include "theory/result.hpp"
#include "time/ticks.hpp"

#include <map>
#include <optional>
#include <span>
#include <string>

namespace landfall::ear {

/// One note of the player against the clicks, as its message came in.
struct Tap {
  Nanoseconds at;            ///< From the first click.
  std::optional<int> string; ///< 1 is the highest; known with one channel a string.
};

inline constexpr int calibration_clicks = 8;

/// How late an input is, from click to message.
struct Calibration {
  Nanoseconds offset; ///< Median over all taps.
  Nanoseconds spread; ///< Half of the taps lie within so much of it.
  int taps = 0;       ///< Clicks that were answered.
  /// What the strings that were played at least three times are late beyond `offset`; below 0 for
  /// those that are faster.
  std::map<int, Nanoseconds> strings;
  bool only_string = false; ///< All of them were on one string.

  bool operator==(const Calibration&) const = default;
};

/// Works out the offset from playing along with eight clicks, `interval` apart. Each click takes
/// the tap nearest to it; one stray tap is forgiven. An attempt that is incomplete (fewer than six
/// clicks answered), crowded (more than two notes beside the clicks' own), scattered (a spread
/// above 20 ms) or beside the clicks (an offset outside -80 to 200 ms) is rejected, with a line for
/// the player. Taps in any order; `interval` is at least 300 ms. Pure.
Result<Calibration, std::string> calibrate(std::span<const Tap> taps, Nanoseconds interval);

/// `12 ms late, within 4 ms`, and the strings that differ: `string 6 another 9 ms`.
std::string calibration_words(const Calibration& calibration);

} // namespace landfall::ear
