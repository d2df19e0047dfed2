#include "render/hit.hpp"

#include "render/close_mark.hpp"
#include "render/edit_page.hpp"
#include "render/hints.hpp"
#include "render/keyboard_geometry.hpp"
#include "render/lane.hpp"
#include "render/lines.hpp"
#include "render/neck_geometry.hpp"
#include "render/pages.hpp"
#include "render/places.hpp"
#include "render/reel.hpp"

namespace landfall::render {

namespace {

/// `said` stands in place of the hints.
Hit on_list(const ListPage& page, bool said, const Rect& rect, const Scale& scale, const Pen& pen,
            Point at) {
  const ListGeometry geometry(page, rect, scale);
  const Setting body{Face::regular, scale.text(type::body), {}};
  if (const auto row = geometry.at(at))
    return HitRow{*row, geometry.first};
  if (geometry.query.holds(at))
    return HitField{0, byte_at(pen, body, page.query, page.query_caret.value_or(page.query.size()),
                               geometry.query, scale, at.x)};
  if (said || !geometry.hints.holds(at))
    return HitPage{};
  const auto shown = last_hints(pen, body, page.hints, geometry.hints.width);
  const auto found = hint_at(pen, body, shown, at.x - geometry.hints.x);
  return found ? Hit(HitHint{std::string(found->hint), found->at}) : Hit(HitPage{});
}

Hit on_page(const Frame& frame, const Rect& rect, const Scale& scale, const Pen& pen, Point at) {
  if (const auto* list = std::get_if<ListPage>(&frame.page))
    return on_list(*list, !frame.message.empty(), rect, scale, pen, at);
  if (const auto* help = std::get_if<HelpPage>(&frame.page))
    if (const auto keys = help_keys_at(*help, rect, scale, at))
      return HitHint{*keys, 0};
  if (const auto* places = std::get_if<PlacesPage>(&frame.page))
    if (const auto panel = PlacesGeometry(*places, rect, scale).at(at))
      return HitPanel{*panel};
  if (const auto* edit = std::get_if<EditPage>(&frame.page))
    if (const auto place = edit_place(pen, *edit, rect, scale, at))
      return HitField{place->field, place->byte};
  return HitPage{};
}

Hit on_lane(const Frame& frame, const Rect& lane, const Scale& scale, Point at) {
  const LaneGeometry geometry(frame, lane, scale);
  const double beat = geometry.beat(at.x);
  for (const LaneBar& bar : frame.lane.bars)
    if (beat >= bar.beat && beat < bar.beat + bar.length)
      return HitBar{bar.tag, beat - bar.beat};
  return {};
}

Hit on_board(const Frame& frame, const Rect& board, Point at) {
  if (const auto* keyboard = std::get_if<Keyboard>(&frame.board)) {
    const auto key = KeyboardGeometry(*keyboard, board).at(at);
    return key ? Hit(HitKey{*key}) : Hit();
  }
  const auto place = NeckGeometry(std::get<Neck>(frame.board), board).at(at);
  return place ? Hit(HitPlace{place->string, place->fret}) : Hit();
}

std::optional<Hit> on_scene(const Frame& frame, const Bands& b, Point at) {
  if (shows_scene_head(frame) && b.status.holds(at))
    return HitScene{HitScene::Part::scenes};
  if (!frame.scene || frame.scene->count.empty() || !b.footer.holds(at))
    return std::nullopt;
  return HitScene{at.x < b.footer.width / 2 ? HitScene::Part::back : HitScene::Part::next};
}

std::optional<Hit> on_lines(const Frame& frame, const Bands& b, const Scale& scale, const Pen& pen,
                            Point at) {
  if (b.status.holds(at) && (!on_stage(frame) || covers(frame.page))) {
    const auto part = status_at(pen, frame, b.status, scale, at.x);
    return part ? Hit(HitStatus{*part}) : Hit();
  }
  if (!b.footer.holds(at) || frame.scene)
    return std::nullopt;
  const auto hint = footer_hint_at(pen, frame, b.footer, scale, at.x);
  return hint ? Hit(HitHint{hint->first, hint->second}) : Hit();
}

} // namespace

std::optional<HitReel> reel_at(const Frame& frame, Size size, Point at) {
  const Bands b = bands(frame, size);
  if (b.reel.empty())
    return std::nullopt;
  return HitReel{reel_place(b.reel, Scale(size, frame.text_scale), at.x)};
}

Hit hit(const Frame& frame, Size size, const TextMetrics& metrics, Point at) {
  const Scale scale(size, frame.text_scale);
  const Pen pen(size, metrics);
  const Bands b = bands(frame, size);
  if (close_mark(frame, b, scale).holds(at))
    return HitClose{};
  if (b.page.holds(at))
    return on_page(frame, b.page, scale, pen, at);
  if (const auto part = on_scene(frame, b, at))
    return *part;
  if (const auto part = on_lines(frame, b, scale, pen, at))
    return *part;
  if (!on_stage(frame) && b.lane.holds(at))
    return on_lane(frame, b.lane, scale, at);
  if (b.reel.holds(at))
    return *reel_at(frame, size, at);
  return on_board(frame, b.own.board, at);
}

} // namespace landfall::render
