#include "render/board.hpp"
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
  bool focused(const KeyGroup& group) const { return group.focus || keyboard.groups.size() == 1; }
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
  void groups(const Rect& area);
  void group(const KeyGroup& group, const Rect& row);
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
      draw_halo(pen, geometry.place(note.midi, note.bend), note.brightness, style(note.midi));
}

/// Each group takes the first row where it meets no other; those with the focus choose first.
void KeyboardPainter::groups(const Rect& area) {
  std::array<std::vector<Rect>, group_rows> rows;
  for (const bool focus : {true, false})
    for (const KeyGroup& each : keyboard.groups) {
      const bool shown = std::all_of(each.midi.begin(), each.midi.end(),
                                     [&](int midi) { return geometry.shows(midi); });
      if (!shown || focus != focused(each))
        continue;
      const Rect low = geometry.key(each.midi.front()), high = geometry.key(each.midi.back());
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const int height = area.height / group_rows;
        const Rect row = from_edges(low.x, area.y + static_cast<int>(i) * height, high.right(),
                                    area.y + static_cast<int>(i + 1) * height);
        if (row.empty() || std::any_of(rows[i].begin(), rows[i].end(),
                                       [&](const Rect& other) { return meet(other, row); }))
          continue;
        rows[i].push_back(row);
        group(each, row);
        break;
      }
    }
}

/// A bar with a stem up to each key; the name stands in the bar.
void KeyboardPainter::group(const KeyGroup& group, const Rect& row) {
  const bool focus = focused(group);
  const Color color = focus || group.in_grip ? colors.text : colors.quiet;
  const int width = scale.px(focus ? 6 : 3, focus ? 2 : 1);
  const int left = geometry.key(group.midi.front()).middle().x;
  const int right = geometry.key(group.midi.back()).middle().x;
  const int y = row.middle().y - width / 2;
  Setting setting{focus ? Face::semibold : Face::regular,
                  std::min(scale.text(type::small), row.height * 5 / 6), color};
  const int middle_key = geometry.key(group.midi[1]).middle().x;
  const bool upper = right - middle_key >= middle_key - left; // the wider half
  const int from = upper ? middle_key : left, to = upper ? right : middle_key;
  int gap_from = right, gap_to = right;
  const int width_of_name = pen.width(setting, group.name);
  if (setting.size >= type::least && width_of_name > 0 &&
      width_of_name + 2 * setting.size <= to - from) {
    const int middle = (from + to) / 2, half = width_of_name / 2 + setting.size / 3;
    pen.write_centred(setting, {middle, row.middle().y}, group.name, Align::middle);
    gap_from = middle - half;
    gap_to = middle + half;
  }
  auto bar = [&](int a, int b) {
    const int step = group.kind == GroupKind::fifth ? std::max(4 * width, 6) : b - a;
    for (int x = a; x < b; x += 2 * std::max(step, 1))
      pen.fill(from_edges(x, y, std::min(x + step, b), y + width), color);
  };
  bar(left, gap_from);
  bar(gap_to, right);
  for (const int midi : group.midi)
    pen.add(Disc{{geometry.key(midi).middle().x, row.middle().y},
                 std::max(2.5F, scale.exact(focus ? 9 : 7)),
                 color});
}

} // namespace

void draw_keyboard(Pen& pen, const Keyboard& keyboard, const Bands& bands, const Palette& colors,
                   const Scale& scale) {
  KeyboardPainter painter{pen, keyboard, colors, scale, KeyboardGeometry(keyboard, bands.board)};
  painter.white_keys(bands.board);
  painter.black_keys();
  painter.names(bands.numbers);
  painter.marks();
  painter.groups(bands.groups);
}

} // namespace landfall::render
