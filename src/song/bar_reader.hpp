#pragma once

#include "song/mark.hpp"
#include "song/song.hpp"

#include <span>

namespace landfall::song {

/// What can stand around a bar.
struct BarSurroundings {
  Context context;
  const ChartBar* before = nullptr; ///< In the same section, for `%`.
  bool pickup = false;              ///< A bar that lacks beats begins late instead of lasting on.
};

/// Lays the marks between two bar lines out over the beats of a bar. `marks` is not empty.
ChartBar read_bar(std::span<const Mark> marks, const BarSurroundings& around, Reporter& reporter);

} // namespace landfall::song
