#include "render/neck_geometry.hpp"

#include <cmath>

namespace landfall::render {

namespace {

/// Width of the open strings' column, of an average fret: the wider the less its marks are held
/// back by the strings.
double open_column(double string_gap, double fret_gap) {
  return std::clamp(0.95 * string_gap / fret_gap, 0.6, 0.86);
}

constexpr double least_fret = 28; // pixels

double along_string(double fret) {
  return 1.0 - std::exp2(-fret / 12.0);
}

} // namespace

// The first fret *shown* is a whole column, so the wire at its left is that of the fret before it.
NeckGeometry::NeckGeometry(const Neck& neck, const Rect& board)
    : strings_(std::clamp(static_cast<int>(neck.strings.size()), 1, 12)),
      first_(std::clamp(neck.first_fret - 1, 0, 34)),
      last_(std::clamp(neck.last_fret, first_ + 1, 36)), open_(neck.first_fret <= 0),
      true_share_(neck.true_spacing ? 1.0 : 0.0), mirrored_(neck.left_handed),
      low_on_top_(neck.seen_by_player), board_(board), fretted_(board) {
  const double string_gap = static_cast<double>(board.height) / strings_;
  if (open_) {
    const double share = open_column(string_gap, board.width / (last_ - first_ + 0.6));
    const int column = static_cast<int>(board.width * share / (last_ - first_ + share));
    fretted_ = mirrored_ ? from_edges(board.x, board.y, board.right() - column, board.bottom())
                         : from_edges(board.x + column, board.y, board.right(), board.bottom());
  }
  const int narrowest = highest_used(neck);
  if (neck.true_spacing)
    true_share_ = trueness(narrowest);
  unit_ = std::max(1.0, std::min(string_gap, fret_gap(narrowest) * 0.9));
}

/// Where marks stand: within hand and reach, or wherever else a place is shown.
int NeckGeometry::highest_used(const Neck& neck) const {
  int highest = neck.hand_high < neck.hand_low ? last_ : neck.hand_high + 1;
  for (const Place& place : neck.places)
    if (shows(place.string, place.fret))
      highest = std::max(highest, place.fret);
  return std::clamp(highest, first_ + 1, last_);
}

double NeckGeometry::fret_gap(int fret) const {
  return (position(fret) - position(fret - 1)) * fretted_.width;
}

/// True spacing gives way where marks would have no room for their labels.
double NeckGeometry::trueness(int narrowest) const {
  const double even = static_cast<double>(fretted_.width) / (last_ - first_);
  const double here = fret_gap(narrowest);
  return here >= least_fret || here >= even
             ? 1.0
             : between(0.0, (even - least_fret) / (even - here), 1.0);
}

double NeckGeometry::position(double fret) const {
  const double from = along_string(first_);
  const double real = (along_string(fret) - from) / (along_string(last_) - from);
  const double even = (fret - first_) / (last_ - first_);
  return even + (real - even) * true_share_;
}

int NeckGeometry::across(double position) const {
  const double x = mirrored_ ? 1.0 - position : position;
  return fretted_.x + static_cast<int>(std::lround(x * fretted_.width));
}

int NeckGeometry::string_y(int string) const {
  const int row = low_on_top_ ? strings_ - string : string - 1;
  return board_.y + (2 * row + 1) * board_.height / (2 * strings_);
}

int NeckGeometry::wire_x(int fret) const {
  return across(position(std::max(fret, first_)));
}

double NeckGeometry::column_middle(double fret) const {
  return (position(fret - 1) + position(fret)) / 2;
}

Point NeckGeometry::place(int string, double fret) const {
  if (open_ && fret < 1.0) {
    const double column = (board_.width - fretted_.width) / 2.0;
    const double open_middle = -column / fretted_.width;
    const double to_first = column_middle(1) - open_middle;
    return {across(open_middle + to_first * std::max(fret, 0.0)), string_y(string)};
  }
  return {across(column_middle(fret)), string_y(string)};
}

bool NeckGeometry::shows(int string, int fret) const {
  return has_string(string) && fret <= last_ && (fret > first_ || (open_ && fret == 0));
}

std::optional<NeckGeometry::Hit> NeckGeometry::at(Point point) const {
  if (!board_.holds(point))
    return std::nullopt;
  const int row = (point.y - board_.y) * strings_ / board_.height;
  const int string = low_on_top_ ? strings_ - row : row + 1;
  if (!fretted_.holds(point))
    return Hit{string, 0};
  for (int fret = first_ + 1; fret < last_; ++fret)
    if (mirrored_ ? point.x >= wire_x(fret) : point.x < wire_x(fret))
      return Hit{string, fret};
  return Hit{string, last_};
}

} // namespace landfall::render
