#include "render/key_groups.hpp"

#include <initializer_list>

namespace landfall::render {

namespace {

struct KeyGroupPainter {
  Pen& pen;
  const Keyboard& keyboard;
  const KeyboardGeometry& geometry;
  const KeyGroupStyle& style;
  std::array<std::vector<Rect>, group_rows> rows{}; ///< What each row holds already.

  bool focused(const KeyGroup& group) const { return group.focus || keyboard.groups.size() == 1; }
  bool shows(const KeyGroup& group) const {
    return std::all_of(group.midi.begin(), group.midi.end(),
                       [&](int midi) { return geometry.shows(midi); });
  }
  int x(int midi) const { return geometry.key(midi).middle().x; }
  Color color(const KeyGroup& group) const {
    return focused(group) || group.in_grip ? style.colors.text : style.colors.quiet;
  }

  std::optional<Rect> row_for(const KeyGroup& group);
  Rect name(const KeyGroup& group, const Rect& row);
  void bar(const KeyGroup& group, int from, int to, int middle);
  void draw(const KeyGroup& group);
};

std::optional<Rect> KeyGroupPainter::row_for(const KeyGroup& group) {
  const Rect low = geometry.key(group.midi.front()), high = geometry.key(group.midi.back());
  const int height = style.area.height / group_rows;
  Rect row = from_edges(low.x, style.area.y, high.right(), style.area.y + height);
  for (std::vector<Rect>& held : rows) {
    if (!row.empty() && std::none_of(held.begin(), held.end(),
                                     [&](const Rect& other) { return meet(other, row); })) {
      held.push_back(row);
      return row;
    }
    row.y += height;
  }
  return std::nullopt;
}

/// In the wider half of the bar. Returns the gap that it needs, which may be empty.
Rect KeyGroupPainter::name(const KeyGroup& group, const Rect& row) {
  const Setting setting{focused(group) ? Face::semibold : Face::regular,
                        std::min(style.scale.text(type::small), row.height * 5 / 6), color(group)};
  const int low = x(group.midi[0]), middle = x(group.midi[1]), high = x(group.midi[2]);
  const bool upper = high - middle >= middle - low;
  const int from = upper ? middle : low, to = upper ? high : middle;
  const int width = pen.width(setting, group.name);
  if (setting.size < type::least || width == 0 || width + 2 * setting.size > to - from)
    return {high, row.y, 0, row.height};
  pen.write_centred(setting, {(from + to) / 2, row.middle().y}, group.name, Align::middle);
  const int half = width / 2 + setting.size / 3;
  return {(from + to) / 2 - half, row.y, 2 * half, row.height};
}

void KeyGroupPainter::bar(const KeyGroup& group, int from, int to, int middle) {
  const int width = style.scale.px(focused(group) ? 6 : 3, focused(group) ? 2 : 1);
  const int step = group.kind == GroupKind::fifth ? std::max(4 * width, 6) : to - from;
  for (int left = from; left < to; left += 2 * std::max(step, 1))
    pen.fill(
        from_edges(left, middle - width / 2, std::min(left + step, to), middle - width / 2 + width),
        color(group));
}

/// A bar with its name, and a dot under each key.
void KeyGroupPainter::draw(const KeyGroup& group) {
  const auto row = row_for(group);
  if (!row)
    return;
  const Rect gap = name(group, *row);
  bar(group, x(group.midi.front()), gap.x, row->middle().y);
  bar(group, gap.right(), x(group.midi.back()), row->middle().y);
  const float radius = std::max(2.5F, style.scale.exact(focused(group) ? 9 : 7));
  for (const int midi : group.midi)
    pen.add(Disc{{x(midi), row->middle().y}, radius, color(group)});
}

} // namespace

void draw_key_groups(Pen& pen, const Keyboard& keyboard, const KeyboardGeometry& geometry,
                     const KeyGroupStyle& style) {
  KeyGroupPainter painter{pen, keyboard, geometry, style};
  for (const bool focus : {true, false})
    for (const KeyGroup& group : keyboard.groups)
      if (painter.focused(group) == focus && painter.shows(group))
        painter.draw(group);
}

} // namespace landfall::render
