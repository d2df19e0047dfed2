#include "render/neck_geometry.hpp"
#include "render/places.hpp"

namespace landfall::render {

namespace {

constexpr double average_letter = 0.48;  // of a text's size
constexpr double tallest_cell = 1.25;    // space between strings, of that between frets
constexpr double worth_more_rows = 1.15; // larger marks by this much

int letters(std::string_view text) {
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

int lines_for(const PlacesPage& page, int width, int size) {
  int title = 0, all = 0;
  for (const PlacePanel& panel : page.panels) {
    const int here = letters(panel.title);
    const int chord = letters(panel.chord.quality) + letters(panel.chord.bass) + 3;
    title = std::max(title, here);
    all = std::max(all, here + chord + letters(panel.shape) + 6);
  }
  const double letter = size * average_letter;
  return all * letter <= width ? 1 : (title + 2) * letter <= width ? 2 : 3;
}

} // namespace

PlacesGeometry::PlacesGeometry(const PlacesPage& page, const Rect& area, const Scale& scale) {
  const int count = static_cast<int>(std::min(page.panels.size(), most_panels));
  for (int columns = count; columns >= 1; --columns) {
    PlacesGeometry other = *this;
    other.place(page, area, scale, columns);
    if (panels_.empty() || other.unit_ > unit_ * worth_more_rows)
      *this = std::move(other);
  }
}

void PlacesGeometry::place(const PlacesPage& page, const Rect& area, const Scale& scale,
                           int columns) {
  const int count = static_cast<int>(std::min(page.panels.size(), most_panels));
  const int rows = (count + columns - 1) / columns;
  const int margin = scale.px(space::margin + 10), gap = scale.px(44, 16);
  const int width = std::max(1, (area.width - 2 * margin - (columns - 1) * gap) / columns);
  const int size = scale.text(type::body), line = Scale::line(size);
  heading_lines_ = lines_for(page, width, size);
  const int heading = heading_lines_ * line + scale.pad(heading_lines_ > 1 ? 24 : 14);
  const int numbers = Scale::line(scale.text(type::small)) + scale.pad(14);
  const int row_gap = scale.pad(16);
  const int height = (area.height - (rows - 1) * row_gap) / rows;
  const int room = std::max(1, height - heading - numbers);

  unit_ = 1e9;
  int strings = 1;
  for (int i = 0; i < count; ++i) {
    const Neck& neck = page.panels[static_cast<std::size_t>(i)].neck;
    unit_ = std::min(unit_, NeckGeometry(neck, {0, 0, width, room}).unit());
    strings = std::max(strings, static_cast<int>(std::min<std::size_t>(neck.strings.size(), 12)));
  }
  const int board = std::min(room, static_cast<int>(strings * unit_ / 0.9 * tallest_cell));
  const int spare = (height - heading - numbers - board) / 3;

  panels_.clear();
  for (int i = 0; i < count; ++i) {
    const int x = area.x + margin + i % columns * (width + gap);
    const int y = area.y + i / columns * (height + row_gap) + std::max(0, spare);
    Panel panel;
    panel.heading = {x, y, width, heading};
    panel.board = {x, y + heading, width, std::max(1, board)};
    panel.numbers = {x, panel.board.bottom(), width, numbers};
    panels_.push_back(panel);
  }
}

std::optional<int> PlacesGeometry::at(Point point) const {
  for (std::size_t i = 0; i < panels_.size(); ++i)
    if (panels_[i].whole().holds(point))
      return static_cast<int>(i);
  return std::nullopt;
}

} // namespace landfall::render
