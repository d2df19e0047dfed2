#pragma once

#include "render/draw.hpp"

#include <cstdint>
#include <vector>

namespace landfall::render {

/// Finds the areas in which one draw list differs from the one before: the window is divided into
/// cells, each with a hash of the commands that touch it.
class ChangeFinder {
public:
  /// Areas to repaint, which do not meet each other. The first list, and one of another size,
  /// changes everything.
  std::vector<Rect> changed(const DrawList& list);

  /// The next list changes everything.
  void forget() { size_ = {}; }

private:
  Size size_;
  std::vector<std::uint64_t> cells_;
};

} // namespace landfall::render
