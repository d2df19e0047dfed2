#include "render/chord.hpp"
#include "render/lines.hpp"

namespace landfall::render {

namespace {

constexpr int most_lines = 2;

} // namespace

/// The count at the left, the title at the right.
void draw_scene_head(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  const Scene& scene = *frame.scene;
  const int margin = scale.px(space::margin + 10);
  const Setting count{Face::semibold, scale.text(type::title), colors.quiet};
  const Setting title{Face::regular, scale.text(type::title), colors.quiet};
  const int room = row.width - 2 * margin;
  const int counted = pen.width(count, scene.count) + 2 * count.size;
  pen.write_centred(count, {margin, row.middle().y}, scene.count);
  pen.write_centred(title, {row.width - margin, row.middle().y},
                    pen.shortened(title, scene.title, room - counted), Align::right);
}

namespace {

/// The beat being counted, or a degree that is named. Where it begins.
int draw_large(Pen& pen, const Frame& frame, const Rect& lane, int baseline, int size,
               const Scale& scale) {
  const int right = lane.right() - scale.px(space::margin + 10);
  const std::string text = frame.count_in ? std::to_string(*frame.count_in) : frame.large;
  if (text.empty())
    return right;
  const Palette& colors = palette(frame.theme);
  const Setting setting{Face::bold, size, frame.count_in ? colors.text : colors.sand};
  pen.write(setting, {right, baseline}, text, Align::right);
  return right - pen.width(setting, text) - scale.px(48);
}

void draw_chord(Pen& pen, const Frame& frame, const Rect& lane, const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  const Scene& scene = *frame.scene;
  const int margin = scale.px(space::margin + 10);
  const Setting about{Face::regular, scale.display(type::scene_text), colors.quiet};
  const Setting coming{Face::semibold, about.size, colors.tide_text};
  const int lane_room = lane.width - 2 * margin;
  const int most = scale.display(scene.bare ? type::bare_chord : type::scene_chord);
  const int tallest = std::min(most, lane.height - scale.px(20));
  const int wanted = scene.chord.bass.empty() ? tallest : tallest * 9 / 10;
  const ChordSize size = fit_chord_line(pen, scene.chord, wanted, lane_room * 3 / 5);
  const int slash = scene.chord.bass.empty() ? 0 : size.root * 3 / 20; // hangs below the baseline
  const int baseline = lane.bottom() - std::max(scale.px(space::medium), slash);
  const int x =
      margin + write_chord(pen, scene.chord, size, {margin, baseline}, colors.text) + scale.px(96);
  const int right = draw_large(pen, frame, lane, baseline, wanted, scale);
  if (scene.bare)
    return;
  const int line = Scale::line(about.size) + scale.px(8);
  const int middle = baseline - size.root / 3;
  pen.write_centred(about, {x, middle - line / 2}, pen.shortened(about, scene.about, right - x));
  pen.write_centred(coming, {x, middle + line / 2}, pen.shortened(coming, scene.coming, right - x));
}

} // namespace

/// A long line is set smaller, then in two, then shortened.
void draw_scene_line(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale) {
  const int margin = scale.px(space::margin + 10);
  const int room = row.width - 2 * margin;
  Setting say{Face::bold, scale.display(type::scene_line), palette(frame.theme).text};
  const int two_fit = static_cast<int>(row.height / (most_lines * type::line));
  while (say.size > two_fit && pen.width(say, frame.scene->line) > room)
    --say.size;
  auto lines = wrapped(pen, say, frame.scene->line, room);
  if (lines.size() > most_lines)
    lines = {lines.front(), frame.scene->line.substr(lines.front().size() + 1)};
  const int step = Scale::line(say.size);
  int y = row.middle().y - step * (static_cast<int>(lines.size()) - 1) / 2;
  for (const auto& line : lines) {
    pen.write_centred(say, {margin, y}, pen.shortened(say, line, room));
    y += step;
  }
}

void draw_scene(Pen& pen, const Frame& frame, const Bands& bands, const Scale& scale) {
  draw_chord(pen, frame, bands.lane, scale);
  if (frame.scene->bare)
    return;
  draw_scene_head(pen, frame, bands.status, scale);
  draw_scene_line(pen, frame, bands.footer, scale);
}

} // namespace landfall::render
