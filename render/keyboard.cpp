#include "render/board.hpp"
#include "render/key_groups.hpp"
#include "render/keyboard_geometry.hpp"
#include "render/mark.hpp"

namespace landfall::render {

namespace {

struct KeyboardPainter {
  Pen& pen;
  const Keyboard& keyboard;
  const Palette& colors;
  const Scale& scale;
  const KeyboardGeometry geometry;

  bool in_hand(int midi) const { return midi >= keyboard.hand_low && midi <= keyboard.hand_high; }
  Color color(int midi) const {
    if (KeyboardGeometry::is_black(midi))
      return in_hand(midi) ? colors.black_key_hand : colors.black_key;
    return in_hand(midi) ? colors.hand : colors.board;
  }
  MarkStyle style(int midi) const {
    return {colors, geometry.unit(midi), color(midi), scale.label_share()};
  }

  void white_keys(const Rect& board);
  void black_keys();
  void names(const Rect& row);
  void marks();
};

/// One area for all white keys, one for those under the hand, and lines between them.
void KeyboardPainter::white_keys(const Rect& board) {
  const int hair = scale.px(space::hair, 1);
  pen.fill(board, colors.board);
  Rect hand;
  for (int midi = geometry.lowest(); midi <= geometry.highest(); ++midi)
    if (in_hand(midi) && !KeyboardGeometry::is_black(midi)) {
      const Rect key = geometry.key(midi);
      hand = hand.empty() ? key : from_edges(hand.x, hand.y, key.right(), hand.bottom());
    }
  pen.fill(hand, colors.hand);
  for (int midi = geometry.lowest(); midi <= geometry.highest(); ++midi)
    if (const Rect key = geometry.key(midi); !KeyboardGeometry::is_black(midi))
      pen.fill({key.right() - hair, key.y, hair, key.height}, colors.hairline);
}

void KeyboardPainter::black_keys() {
  const int hair = scale.px(space::hair, 1);
  for (int midi = geometry.lowest(); midi <= geometry.highest(); ++midi) {
    if (!KeyboardGeometry::is_black(midi))
      continue;
    const Rect key = geometry.key(midi);
    pen.fill(key, colors.hairline);
    pen.fill(from_edges(key.x + hair, key.y, key.right() - hair, key.bottom() - hair), color(midi));
  }
}

/// Every C by its octave; 60 is C4.
void KeyboardPainter::names(const Rect& row) {
  const int size = scale.text(type::small);
  for (int midi = geometry.lowest(); midi <= geometry.highest(); ++midi) {
    if (midi % 12 != 0)
      continue;
    const Setting setting = in_hand(midi) ? Setting{Face::bold, size, colors.text}
                                          : Setting{Face::regular, size, colors.quiet};
    const std::string name = "C" + std::to_string(midi / 12 - 1);
    const int half = pen.width(setting, name) / 2;
    const int x = std::clamp(geometry.key(midi).middle().x, half, pen.size().width - half);
    pen.write_centred(setting, {x, row.middle().y + scale.px(5)}, name, Align::middle);
  }
}

void KeyboardPainter::marks() {
  for (const Key& key : keyboard.keys)
    if (geometry.shows(key.midi))
      draw_mark(pen, key.mark, geometry.place(key.midi), style(key.midi));
  for (const SoundingKey& note : keyboard.sounding)
    if (geometry.shows(note.midi))
      draw_halo(pen, geometry.place(note.midi, note.bend), note.kind, note.brightness,
                style(note.midi));
  for (const Circle& circle : keyboard.circles)
    if (geometry.shows(circle.from_fret) && geometry.shows(circle.to_fret))
      draw_circle(pen, geometry.place(circle.from_fret), geometry.place(circle.to_fret),
                  style(circle.from_fret));
}

} // namespace

void draw_keyboard(Pen& pen, const Keyboard& keyboard, const BoardBands& bands,
                   const Palette& colors, const Scale& scale) {
  KeyboardPainter painter{pen, keyboard, colors, scale, KeyboardGeometry(keyboard, bands.board)};
  painter.white_keys(bands.board);
  painter.black_keys();
  painter.names(bands.numbers);
  painter.marks();
  draw_key_groups(pen, keyboard, painter.geometry, {bands.groups, colors, scale});
}

} // namespace landfall::render
