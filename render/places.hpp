#pragma once

#include "render/frame.hpp"
#include "render/geometry.hpp"
#include "render/style.hpp"
#include "render/text.hpp"

#include <optional>
#include <vector>

namespace landfall::render {

/// Where the panels of a places page stand: in as many columns as make the necks largest. Needs no
/// fonts, so that clicks can be told apart without them.
class PlacesGeometry {
public:
  static constexpr std::size_t most_panels = 6;

  PlacesGeometry(const PlacesPage& page, const Rect& area, const Scale& scale);

  struct Panel {
    Rect heading; ///< Title, chord and shape.
    Rect board;
    Rect numbers;

    Rect whole() const {
      return from_edges(heading.x, heading.y, heading.right(), numbers.bottom());
    }
  };
  const std::vector<Panel>& panels() const { return panels_; }

  /// How a heading is set: all in one line; the title above the chord; or the title in two lines.
  int heading_lines() const { return heading_lines_; }

  /// Marks of all panels are measured by this.
  double unit() const { return unit_; }

  /// The panel that holds the point.
  std::optional<int> at(Point point) const;

private:
  void place(const PlacesPage& page, const Rect& area, const Scale& scale, int columns);

  std::vector<Panel> panels_;
  int heading_lines_ = 1;
  double unit_ = 0.0;
};

/// The places of a key side by side.
void draw_places(Pen& pen, const PlacesPage& page, const Palette& colors, const Rect& area,
                 const Scale& scale);

} // namespace landfall::render
