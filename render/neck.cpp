#include "render/board.hpp"
#include "render/mark.hpp"
#include "render/neck_geometry.hpp"
#include "render/neck_groups.hpp"

namespace landfall::render {

namespace {

struct NeckPainter {
  Pen& pen;
  const Neck& neck;
  const Palette& colors;
  const Scale& scale;
  const NeckGeometry geometry;

  Rect board() const { return geometry.fretted(); }
  bool in_hand(int fret) const { return fret >= neck.hand_low && fret <= neck.hand_high; }
  Color under(int fret) const {
    return fret > 0 && in_hand(fret) ? colors.hand : fret > 0 ? colors.board : colors.ground;
  }
  MarkStyle style(int fret) const {
    return {colors, geometry.unit(), under(fret), scale.label_share()};
  }

  void wood();
  void wires();
  void inlays();
  void strings();
  void capo();
  void numbers(const Rect& row);
  void barres();
  void muted();
  void marks();
  void halo(const SoundingPlace& note);
  void circles();
};

void NeckPainter::wood() {
  pen.fill(board(), colors.board);
  const int low = std::max(neck.hand_low, std::max(neck.first_fret, 1));
  const int high = std::min(neck.hand_high, neck.last_fret);
  if (neck.hand_high < neck.hand_low || high < low)
    return;
  const int a = geometry.wire_x(low - 1), b = geometry.wire_x(high);
  pen.fill(from_edges(std::min(a, b), board().y, std::max(a, b), board().bottom()), colors.hand);
}

void NeckPainter::wires() {
  const int width = scale.px(space::hair, 1);
  for (int fret = std::max(neck.first_fret, 1); fret <= neck.last_fret; ++fret)
    pen.fill({geometry.wire_x(fret) - width / 2, board().y, width, board().height},
             colors.hairline);
  const bool nut = neck.first_fret <= 0;
  const int edge = nut ? scale.px(8, 3) : width;
  const int x = geometry.wire_x(std::max(neck.first_fret - 1, 0));
  pen.fill({x - edge / 2, board().y, edge, board().height}, nut ? colors.quiet : colors.hairline);
}

void NeckPainter::inlays() {
  const float radius = static_cast<float>(geometry.unit() * 0.09);
  for (int fret : neck.inlays) {
    if (fret < std::max(neck.first_fret, 1) || fret > neck.last_fret)
      continue;
    const bool twice = std::find(neck.double_inlays.begin(), neck.double_inlays.end(), fret) !=
                       neck.double_inlays.end();
    const int x = geometry.place(1, fret).x, y = board().middle().y;
    const int apart =
        twice ? board().height / static_cast<int>(std::max<std::size_t>(neck.strings.size(), 1))
              : 0;
    const Color color = mix(under(fret), colors.hairline, 0.8);
    pen.add(Disc{{x, y - apart}, radius, color});
    if (twice)
      pen.add(Disc{{x, y + apart}, radius, color});
  }
}

void NeckPainter::strings() {
  for (std::size_t i = 0; i < neck.strings.size() && i < 12; ++i) {
    const StringLook& look = neck.strings[i];
    if (look.first_fret >= neck.last_fret)
      continue; // it begins beyond what is shown
    const int width = scale.px(1.5 + 3.5 * between(0.0, look.gauge, 1.0), 1);
    const int y = geometry.string_y(static_cast<int>(i) + 1) - width / 2;
    const bool shortened = look.first_fret > neck.first_fret;
    const int nut = geometry.wire_x(shortened ? look.first_fret : std::max(neck.first_fret - 1, 0));
    const int end = geometry.wire_x(neck.last_fret);
    const Rect whole{std::min(nut, end), y, std::abs(end - nut), width};
    pen.fill(whole, mix(colors.board, colors.string, look.wound ? 0.8 : 1.0));
  }
}

void NeckPainter::capo() {
  if (neck.capo < std::max(neck.first_fret, 1) || neck.capo > neck.last_fret)
    return;
  const int width = scale.px(18, 6);
  const int x = (geometry.wire_x(neck.capo - 1) + 3 * geometry.wire_x(neck.capo)) / 4;
  pen.fill({x - width / 2, board().y, width, board().height}, colors.quiet);
}

void NeckPainter::numbers(const Rect& row) {
  const int size = scale.text(type::small);
  const int first = std::max(neck.first_fret, 1);
  int free_from = board().x - size;
  auto number = [&](int fret) {
    const bool inlay = std::find(neck.inlays.begin(), neck.inlays.end(), fret) != neck.inlays.end();
    if (!inlay && fret != neck.hand_low)
      return;
    const Setting setting = in_hand(fret) ? Setting{Face::bold, size, colors.text}
                                          : Setting{Face::regular, size, colors.quiet};
    const int x = geometry.place(1, fret).x;
    const int half = pen.width(setting, std::to_string(fret)) / 2;
    if (x - half < free_from)
      return;
    pen.write_centred(setting, {x, row.middle().y + scale.px(5)}, std::to_string(fret),
                      Align::middle);
    free_from = x + half + size / 3;
  };
  if (neck.left_handed)
    for (int fret = neck.last_fret; fret >= first; --fret)
      number(fret);
  else
    for (int fret = first; fret <= neck.last_fret; ++fret)
      number(fret);
}

void NeckPainter::barres() {
  const float width = static_cast<float>(geometry.unit() * neck_style::barre);
  const float rim = std::max(1.0F, static_cast<float>(geometry.unit() * neck_style::barre_edge));
  for (const Barre& barre : neck.barres)
    if (geometry.shows(barre.from_string, barre.fret) &&
        geometry.shows(barre.to_string, barre.fret))
      for (const bool edge : {true, false})
        pen.add(Line{geometry.place(barre.from_string, barre.fret),
                     geometry.place(barre.to_string, barre.fret), edge ? width : width - 2 * rim,
                     edge ? colors.quiet
                          : mix(under(barre.fret), colors.text, neck_style::barre_share)});
}

/// Crosses beside the board, at the nut's side.
void NeckPainter::muted() {
  const int arm = std::max(3, static_cast<int>(geometry.unit() * neck_style::cross));
  const int away = arm + scale.px(10, 4);
  const Rect& whole = geometry.board();
  const int x = neck.left_handed ? whole.right() + away : whole.x - away;
  const float stroke = std::max(1.5F, static_cast<float>(arm) * 0.26F);
  for (int string : neck.muted_strings) {
    if (!geometry.has_string(string))
      continue;
    const int y = geometry.string_y(string);
    pen.add(Line{{x - arm, y - arm}, {x + arm, y + arm}, stroke, colors.quiet});
    pen.add(Line{{x - arm, y + arm}, {x + arm, y - arm}, stroke, colors.quiet});
  }
}

void NeckPainter::marks() {
  for (const Place& place : neck.places)
    if (geometry.shows(place.string, place.fret))
      draw_mark(pen, place.mark, geometry.place(place.string, place.fret), style(place.fret));
  for (const SoundingPlace& note : neck.sounding)
    if (geometry.shows(note.string, note.fret))
      halo(note);
}

/// A bend stays on the board.
void NeckPainter::halo(const SoundingPlace& note) {
  const double lowest = geometry.shows(note.string, 0) ? 0.0 : neck.first_fret - 0.4;
  const double fret = between(lowest, note.fret + note.bend, neck.last_fret + 0.4);
  draw_halo(pen, geometry.place(note.string, fret), note.kind, note.brightness, style(note.fret));
}

void NeckPainter::circles() {
  for (const Circle& circle : neck.circles) {
    if (!geometry.shows(circle.from_string, circle.from_fret) ||
        !geometry.shows(circle.to_string, circle.to_fret))
      continue;
    draw_circle(pen, geometry.place(circle.from_string, circle.from_fret),
                geometry.place(circle.to_string, circle.to_fret), style(circle.from_fret));
  }
}

} // namespace

void draw_neck(Pen& pen, const Neck& neck, const NeckArea& area, const Palette& colors,
               const Scale& scale) {
  NeckGeometry geometry(neck, area.board);
  geometry.limit_unit(area.most_unit);
  NeckPainter painter{pen, neck, colors, scale, geometry};
  painter.wood();
  painter.wires();
  painter.inlays();
  painter.strings();
  painter.capo();
  painter.numbers(area.numbers);
  painter.barres();
  painter.muted();
  draw_groups(pen, neck, geometry, {colors, area.name_size});
  painter.marks();
  painter.circles();
}

} // namespace landfall::render
