#pragma once

#include <string>
#include <vector>

namespace landfall::render {

/// A spot of the map: a ring whose size says how much was played, and a disc within it whose size
/// says how much of that landed.
struct HistorySpot {
  double amount = 0.0; ///< 0 to 1; 0 shows nothing.
  double landed = 0.0; ///< 0 to 1, of what was played.
  std::string label;   ///< `12 of 17`; left out where there is no room.

  bool operator==(const HistorySpot&) const = default;
};

/// Keys by places.
struct HistoryMap {
  std::vector<std::string> columns;
  std::vector<std::string> rows;
  std::vector<HistorySpot> spots; ///< Row by row, one for each column.

  bool operator==(const HistoryMap&) const = default;
};

struct HistoryBar {
  std::string name;
  double length = 0.0; ///< 0 to 1.
  std::string words;

  bool operator==(const HistoryBar&) const = default;
};

/// What was practised. Without columns in the map only title and subtitle are shown.
struct HistoryPage {
  std::string title;
  std::string subtitle;
  HistoryMap map;
  std::vector<HistoryBar> degrees; ///< What was landed on.
  std::vector<HistoryBar> weeks;   ///< How much landed; the first and last names are shown.
  std::vector<HistoryBar> days;    ///< How long it was played.
  std::string longest_day;         ///< `the longest: 40 minutes`

  bool operator==(const HistoryPage&) const = default;
};

} // namespace landfall::render
