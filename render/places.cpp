#include "render/places.hpp"

#include "render/board.hpp"
#include "render/chord.hpp"

namespace landfall::render {

namespace {

constexpr std::string_view dot = " · ";

struct PanelPainter {
  Pen& pen;
  const PlacePanel& panel;
  const Palette& colors;
  const Scale& scale;
  const Rect heading;
  const int lines;

  int size() const { return scale.text(type::body); }
  int line() const { return Scale::line(size()); }

  Setting title_setting() const {
    return {panel.present ? Face::bold : Face::semibold, size(),
            panel.present ? colors.text : colors.quiet};
  }
  int dot_room() const { return panel.present ? size() * 9 / 10 : 0; }

  void title_line(std::string_view text, int y, int room, bool marked);
  void title(int room);
  int chord_and_shape(Point at, int room, bool measure_only);
  void draw();
};

void PanelPainter::title_line(std::string_view text, int y, int room, bool marked) {
  if (marked)
    pen.add(Disc{{heading.x + size() / 4, y},
                 std::max(2.5F, static_cast<float>(size()) * 0.25F),
                 colors.sand});
  const int start = marked ? dot_room() : 0;
  pen.write_centred(title_setting(), {heading.x + start, y},
                    pen.shortened(title_setting(), text, room - start));
}

void PanelPainter::title(int room) {
  const int y = heading.y + line() / 2;
  const std::size_t cut = lines == 3 ? panel.title.find(dot) : std::string::npos;
  if (cut == std::string::npos)
    return title_line(panel.title, y, room, panel.present);
  title_line(panel.title.substr(0, cut), y, room, panel.present);
  title_line(panel.title.substr(cut + dot.size()), y + line(), room, false);
}

/// The present chord and what it is in this place. Returns the room it takes.
int PanelPainter::chord_and_shape(Point at, int room, bool measure_only) {
  const Setting quiet{Face::regular, size(), colors.quiet};
  const ChordSize set =
      fit_chord_line(pen, panel.chord, std::max(size() * 5 / 4, type::least_in_line), room);
  const int chord = chord_width(pen, panel.chord, set);
  if (chord > room)
    return 0;
  const std::string shape = pen.shortened(quiet, panel.shape, room - chord - size() / 2);
  if (!measure_only) {
    write_chord(pen, panel.chord, set, {at.x, at.y}, colors.text);
    pen.write(quiet, {at.x + chord + size() / 2, at.y}, shape);
  }
  return chord + (shape.empty() ? 0 : size() / 2 + pen.width(quiet, shape));
}

void PanelPainter::draw() {
  const int last = heading.y + (lines - 1) * line() + line() / 2;
  const int baseline = last + pen.cap({Face::bold, size() * 5 / 4, colors.text}) / 2 +
                       (lines > 1 ? scale.pad(6) : 0);
  if (lines > 1) {
    title(heading.width);
    chord_and_shape({heading.x, baseline}, heading.width, false);
    return;
  }
  const int most = heading.width / 2;
  const int used = chord_and_shape({}, most, true);
  title(heading.width - used - size());
  chord_and_shape({heading.right() - used, baseline}, most, false);
}

} // namespace

void draw_places(Pen& pen, const PlacesPage& page, const Palette& colors, const Rect& area,
                 const Scale& scale) {
  const PlacesGeometry geometry(page, area, scale);
  for (std::size_t i = 0; i < geometry.panels().size(); ++i) {
    const PlacesGeometry::Panel& at = geometry.panels()[i];
    PanelPainter painter{pen, page.panels[i], colors, scale, at.heading, geometry.heading_lines()};
    painter.draw();
    draw_neck(pen, page.panels[i].neck, {at.board, at.numbers, 0, geometry.unit()}, colors, scale);
  }
}

} // namespace landfall::render
