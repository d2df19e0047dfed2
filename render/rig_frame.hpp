#pragma once

#include <string>
#include <vector>

namespace landfall::render {

/// How often something took how long.
struct RigChart {
  struct Column {
    std::string name;   ///< `0.05`
    double share = 0.0; ///< 0 to 1, of the highest.
    std::string words;  ///< `1,204`; left out where there is no room.

    bool operator==(const Column&) const = default;
  };

  std::string title;
  std::string about; ///< One line, quieter.
  std::vector<Column> columns;

  bool operator==(const RigChart&) const = default;
};

struct RigFact {
  std::string name;  ///< `Lost on the way`
  std::string value; ///< `none`
  bool warns = false;

  bool operator==(const RigFact&) const = default;
};

/// How the rig keeps time: two charts, and facts beside them.
struct RigPage {
  std::string title;
  std::string subtitle;
  std::vector<RigChart> charts;
  std::vector<RigFact> facts;

  bool operator==(const RigPage&) const = default;
};

} // namespace landfall::render
