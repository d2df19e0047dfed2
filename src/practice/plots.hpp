#pragma once

#include "practice/history.hpp"

namespace landfall::practice {

/// Landings by key and place, note sets added up.
struct HeatMap {
  std::vector<theory::Key> keys; ///< Those practised, up the circle of fourths from C, major first.
  std::vector<std::string> places; ///< Those practised: C A G E D, then frets.
  std::map<std::pair<theory::Key, std::string>, Landings> cells;

  const Landings* at(const theory::Key& key, const std::string& place) const;
  int most_played() const; ///< Of any cell; at least 1.
};
HeatMap heat_map(const History& history);

/// The last `count` days up to `today`, those without playing too.
std::vector<Span> last_days(const History& history, std::chrono::sys_days today, int count);
/// The same by weeks.
std::vector<Span> last_weeks(const History& history, std::chrono::sys_days today, int count);

/// All plots on one sheet as an SVG document: key by place, landings by degree, landings over
/// weeks, minutes a day.
std::string history_svg(const History& history, std::chrono::sys_days today);

} // namespace landfall::practice
