#pragma once

#include <optional>
#include <utility>
#include <vector>

namespace landfall::render {

/// A take's whole length, over the footer: to see where one is, and to go elsewhere. Places are 0
/// to 1 of it.
struct Reel {
  struct Mark {
    double at = 0.0;
    bool landed = false;

    bool operator==(const Mark&) const = default;
  };

  double at = 0.0;
  std::vector<double> choruses; ///< Where they begin.
  std::vector<Mark> marks;      ///< Changes that were played at.
  std::optional<std::pair<double, double>> loop;

  bool operator==(const Reel&) const = default;
};

} // namespace landfall::render
