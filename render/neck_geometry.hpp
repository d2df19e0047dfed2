#pragma once

#include "render/frame.hpp"
#include "render/geometry.hpp"

#include <optional>

namespace landfall::render {

/// Where strings and frets lie in the board's rectangle. Flips are done here and nowhere else.
class NeckGeometry {
public:
  NeckGeometry(const Neck& neck, const Rect& board);

  /// The part with frets: without the column of the open strings.
  const Rect& fretted() const { return fretted_; }
  const Rect& board() const { return board_; }

  /// Middle of the string's height.
  int string_y(int string) const;
  /// The fret wire; fret 0 is the nut, or the edge where the first fret shown begins.
  int wire_x(int fret) const;
  /// Where a finger would be drawn; fractions bend towards the next fret.
  Point place(int string, double fret) const;
  bool has_string(int string) const { return string >= 1 && string <= strings_; }
  bool shows(int string, int fret) const;

  /// Radius that all marks are measured by: the least of string and fret distances.
  double unit() const { return unit_; }
  void limit_unit(double most) { unit_ = std::min(unit_, most); }

  /// The nearest place, if the point lies on the board.
  struct Hit {
    int string;
    int fret;
  };
  std::optional<Hit> at(Point point) const;

private:
  int highest_used(const Neck& neck) const;
  double position(double fret) const; ///< 0 to 1 along the fretted part, from the nut.
  double fret_gap(int fret) const;    ///< Pixels.
  double trueness(int narrowest) const;
  int across(double position) const; ///< Pixel of that, flipped if needed.
  double column_middle(double fret) const;

  int strings_;
  int first_;
  int last_;
  bool open_;
  double true_share_; ///< 0 for even spacing, 1 for true.
  bool mirrored_;
  bool low_on_top_;
  Rect board_;
  Rect fretted_;
  double unit_ = 1.0;
};

} // namespace landfall::render
