#include "render/layout.hpp"

#include "render/board.hpp"
#include "render/close_mark.hpp"
#include "render/edit_page.hpp"
#include "render/lane.hpp"
#include "render/lines.hpp"
#include "render/pages.hpp"
#include "render/places.hpp"
#include "render/reel.hpp"

namespace landfall::render {

namespace {

void draw_board(Pen& pen, const Frame& frame, const std::variant<Neck, Keyboard>& board,
                const BoardBands& b, const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  const int names = frame.scene ? scale.display(type::scene_text) : scale.text(type::small);
  if (const auto* neck = std::get_if<Neck>(&board))
    draw_neck(pen, *neck, {b.board, b.numbers, names}, colors, scale);
  else
    draw_keyboard(pen, std::get<Keyboard>(board), b, colors, scale);
}

void draw_boards(Pen& pen, const Frame& frame, const Bands& b, const Scale& scale) {
  draw_board(pen, frame, frame.board, b.own, scale);
  if (frame.other)
    draw_board(pen, frame, frame.other->board, b.other, scale);
}

void draw_picture(Pen& pen, const Frame& frame, const Bands& b, const Scale& scale) {
  if (on_stage(frame)) {
    draw_scene(pen, frame, b, scale);
  } else {
    draw_lane(pen, frame, b.lane, scale);
    if (frame.reel)
      draw_reel(pen, *frame.reel, palette(frame.theme), b.reel, scale);
    if (frame.scene)
      draw_scene_line(pen, frame, b.footer, scale);
    else
      draw_footer(pen, frame, b.footer, scale);
  }
  draw_note(pen, frame, b, scale);
  if (const auto* places = std::get_if<PlacesPage>(&frame.page))
    draw_places(pen, *places, palette(frame.theme), b.page, scale);
  else if (const auto* edit = std::get_if<EditPage>(&frame.page))
    draw_edit(pen, *edit, palette(frame.theme), b.page, scale);
  else
    draw_boards(pen, frame, b, scale);
}

} // namespace

DrawList layout(const Frame& frame, Size size, const TextMetrics& metrics) {
  const Scale scale(size, frame.text_scale);
  const Bands b = bands(frame, size);
  Pen pen(size, metrics);
  pen.fill({0, 0, size.width, size.height}, palette(frame.theme).ground);
  const bool covered = covers(frame.page);
  if (!shows_scene_head(frame) && (covered || !on_stage(frame)))
    draw_status(pen, frame, b.status, scale);
  if (!covered)
    draw_picture(pen, frame, b, scale);
  else if (shows_scene_head(frame))
    draw_scene_head(pen, frame, b.status, scale);
  if (!on_board(frame.page) && !b.page.empty())
    draw_page(pen, frame, b.page, scale);
  draw_close_mark(pen, frame, b, scale);
  return pen.take();
}

int most_scrolled(const Frame& frame, Size size) {
  const auto* help = std::get_if<HelpPage>(&frame.page);
  if (help == nullptr)
    return 0;
  return help_rows_left(*help, bands(frame, size).page, Scale(size, frame.text_scale));
}

} // namespace landfall::render
