#pragma once

#include "render/frame.hpp"
#include "render/geometry.hpp"

#include <optional>

namespace landfall::render {

/// Where the keys lie in the board's rectangle.
class KeyboardGeometry {
public:
  KeyboardGeometry(const Keyboard& keyboard, const Rect& board);

  static bool is_black(int midi);

  int lowest() const { return lowest_; }
  int highest() const { return highest_; }
  Rect key(int midi) const;
  /// Middle of the key's marks; fractions of `bend` move towards the neighbouring key.
  Point place(int midi, double bend = 0.0) const;
  bool shows(int midi) const { return midi >= lowest_ && midi <= highest_; }
  /// Radius that the key's marks are measured by.
  double unit(int midi) const;

  /// The key under the point, if it lies on the board.
  std::optional<int> at(Point point) const;

private:
  int left_edge(int white) const; ///< Of the white key with this index.

  int lowest_;
  int highest_;
  int whites_;
  Rect board_;
};

} // namespace landfall::render
