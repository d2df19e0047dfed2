#include "render/keyboard_geometry.hpp"

#include <array>
#include <cmath>

namespace landfall::render {

namespace {

/// Of a black key's marks, in pixels, so that their labels have room where keys are narrow.
constexpr double least_black = 22;

constexpr std::array<bool, 12> black_keys{false, true,  false, true,  false, false,
                                          true,  false, true,  false, true,  false};
constexpr std::array<int, 12> whites_below{0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6};

/// White keys below this one, from MIDI note 0.
int white_index(int midi) {
  return midi / 12 * 7 + whites_below[static_cast<std::size_t>(midi % 12)];
}

} // namespace

bool KeyboardGeometry::is_black(int midi) {
  return black_keys[static_cast<std::size_t>(midi % 12)];
}

KeyboardGeometry::KeyboardGeometry(const Keyboard& keyboard, const Rect& board)
    : lowest_(std::clamp(keyboard.lowest, 0, 120)),
      highest_(std::clamp(keyboard.highest, lowest_ + 4, 127)), board_(board) {
  lowest_ -= is_black(lowest_) ? 1 : 0;
  highest_ += is_black(highest_) ? 1 : 0;
  whites_ = white_index(highest_) - white_index(lowest_) + 1;
}

int KeyboardGeometry::left_edge(int white) const {
  return board_.x + white * board_.width / whites_;
}

Rect KeyboardGeometry::key(int midi) const {
  const int white = white_index(midi) - white_index(lowest_);
  if (!is_black(midi))
    return from_edges(left_edge(white), board_.y, left_edge(white + 1), board_.bottom());
  const int half = board_.width * 3 / (whites_ * 10);
  return {left_edge(white) - half, board_.y, 2 * half, board_.height * 3 / 5};
}

double KeyboardGeometry::unit(int midi) const {
  const double white = static_cast<double>(board_.width) / whites_;
  const double black = std::max(white * 0.74, std::min(white * 1.06, least_black));
  return std::max(1.0, std::min(is_black(midi) ? black : white, board_.height * 0.2));
}

Point KeyboardGeometry::place(int midi, double bend) const {
  bend = between(-24.0, bend, 24.0);
  auto still = [this](int note) {
    const Rect rect = key(note);
    return Point{rect.middle().x, rect.bottom() - static_cast<int>(unit(note) * 0.66)};
  };
  const int from = std::clamp(midi + static_cast<int>(std::floor(bend)), lowest_, highest_);
  const int to = std::min(from + 1, highest_);
  const double share = between(0.0, midi + bend - from, 1.0);
  const Point a = still(from), b = still(to);
  return {a.x + static_cast<int>(std::lround((b.x - a.x) * share)),
          a.y + static_cast<int>(std::lround((b.y - a.y) * share))};
}

std::optional<int> KeyboardGeometry::at(Point point) const {
  if (!board_.holds(point))
    return std::nullopt;
  std::optional<int> found;
  for (int midi = lowest_; midi <= highest_; ++midi)
    if (key(midi).holds(point) && (!found || is_black(midi)))
      found = midi;
  return found;
}

} // namespace landfall::render
