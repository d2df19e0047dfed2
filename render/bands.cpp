#include "render/bands.hpp"

#include "render/lane.hpp"

namespace landfall::render {

namespace {

int scene_height(const Scene& scene, const Scale& scale, int window_height) {
  const double chord = scene.bare ? type::bare_chord : type::scene_chord;
  return std::min(scale.display(chord) + scale.px(50), window_height * 2 / 5);
}

Rect page_rect(const Frame& frame, Size window, int top, const Scale& scale) {
  if (std::holds_alternative<std::monostate>(frame.page) || on_board(frame.page))
    return {};
  const auto* list = std::get_if<ListPage>(&frame.page);
  if (list == nullptr || !list->beside)
    return {0, top, window.width, window.height - top};
  const int width =
      std::min(window.width / 2, std::max(scale.text(type::body) * 21, scale.px(560)));
  return {window.width - width, top, width, window.height - top};
}

int groups_height(const std::variant<Neck, Keyboard>& board, int board_height, const Scale& scale) {
  const auto* keyboard = std::get_if<Keyboard>(&board);
  if (keyboard == nullptr || keyboard->groups.empty())
    return 0;
  return std::min(group_rows * (Scale::line(scale.text(type::small)) + scale.px(4)),
                  board_height / 4);
}

/// A board between two edges and two heights.
BoardBands board_bands(const std::variant<Neck, Keyboard>& board, const Rect& area, int numbers,
                       const Scale& scale) {
  BoardBands b;
  b.board = area;
  b.board.height -= groups_height(board, area.height, scale);
  b.groups = {area.x, b.board.bottom(), area.width, area.bottom() - b.board.bottom()};
  b.numbers = {area.x, area.bottom(), area.width, numbers};
  return b;
}

} // namespace

bool on_stage(const Frame& frame) {
  return frame.scene && !frame.scene->lane;
}

bool on_board(const Page& page) {
  return std::holds_alternative<PlacesPage>(page) || std::holds_alternative<EditPage>(page);
}

bool covers(const Page& page) {
  const auto* list = std::get_if<ListPage>(&page);
  return !std::holds_alternative<std::monostate>(page) && !on_board(page) &&
         (list == nullptr || !list->beside);
}

bool shows_scene_head(const Frame& frame) {
  return on_stage(frame) && !frame.scene->bare && !frame.scene->count.empty();
}

Bands bands(const Frame& frame, Size window) {
  const Scale scale(window, frame.text_scale);
  const int body = Scale::line(scale.text(type::body));
  Bands b;
  const bool bare = on_stage(frame) && frame.scene->bare && !covers(frame.page);
  b.status = {0, 0, window.width, bare ? scale.px(space::medium) : body + scale.pad(48)};
  b.page = page_rect(frame, window, b.status.bottom(), scale);
  const bool beside = !b.page.empty() && b.page.x > 0;
  const int width = beside ? b.page.x : window.width;

  const int lane =
      on_stage(frame)
          ? scene_height(*frame.scene, scale, window.height)
          : std::min(LaneRows::wanted_height(scale, frame.lane.standing_from.has_value()),
                     window.height * 2 / 5);
  b.lane = {0, b.status.bottom(), width, lane};
  b.note = {0, b.lane.bottom(), width, std::max(scale.px(60), std::min(body, scale.px(80)))};
  const int line = frame.scene ? Scale::line(scale.display(type::scene_line)) : body;
  const int foot = bare ? scale.px(space::small) : line + scale.pad(36);
  b.footer = {0, window.height - foot, width, foot};
  const int numbers = Scale::line(scale.text(type::small)) + scale.px(14);
  const int reel = frame.reel && !frame.scene ? scale.px(44, 20) : 0;
  b.reel = {0, b.footer.y - reel, width, reel};
  const int margin = scale.px(space::margin + 10);
  const auto whole = from_edges(margin, b.note.bottom(), width - margin, b.reel.y - numbers);
  if (frame.other) {
    const int half = (whole.width - margin) / 2;
    const Rect left{whole.x, whole.y, half, whole.height};
    b.other = board_bands(frame.other->board, left, numbers, scale);
    b.own = board_bands(frame.board, {whole.right() - half, whole.y, half, whole.height}, numbers,
                        scale);
  } else {
    b.own = board_bands(frame.board, whole, numbers, scale);
  }
  if (on_board(frame.page))
    b.page = from_edges(0, b.note.bottom(), window.width, b.footer.y);
  return b;
}

} // namespace landfall::render
