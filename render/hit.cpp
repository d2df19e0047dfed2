#include "render/hit.hpp"

#include "render/edit_page.hpp"
#include "render/keyboard_geometry.hpp"
#include "render/lane.hpp"
#include "render/neck_geometry.hpp"
#include "render/pages.hpp"
#include "render/places.hpp"
#include "render/reel.hpp"

namespace landfall::render {

namespace {

Hit on_page(const Frame& frame, const Rect& rect, const Scale& scale, Point at) {
  if (const auto* list = std::get_if<ListPage>(&frame.page))
    if (const auto row = ListGeometry(*list, rect, scale).at(at))
      return HitRow{*row};
  if (const auto* places = std::get_if<PlacesPage>(&frame.page))
    if (const auto panel = PlacesGeometry(*places, rect, scale).at(at))
      return HitPanel{*panel};
  if (const auto* edit = std::get_if<EditPage>(&frame.page))
    if (const auto field = EditGeometry(*edit, rect, scale).at(*edit, at))
      return HitRow{*field};
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

std::optional<HitScene> on_scene(const Frame& frame, const Bands& b, Point at) {
  if (!frame.scene || frame.scene->count.empty())
    return std::nullopt;
  if (b.status.holds(at))
    return HitScene{HitScene::Part::scenes};
  if (!b.footer.holds(at))
    return std::nullopt;
  return HitScene{at.x < b.footer.width / 2 ? HitScene::Part::back : HitScene::Part::next};
}

} // namespace

std::optional<HitReel> reel_at(const Frame& frame, Size size, Point at) {
  const Bands b = bands(frame, size);
  if (b.reel.empty())
    return std::nullopt;
  return HitReel{reel_place(b.reel, Scale(size, frame.text_scale), at.x)};
}

Hit hit(const Frame& frame, Size size, Point at) {
  const Scale scale(size, frame.text_scale);
  const Bands b = bands(frame, size);
  if (b.page.holds(at))
    return on_page(frame, b.page, scale, at);
  if (const auto part = on_scene(frame, b, at))
    return *part;
  if (!on_stage(frame) && b.lane.holds(at))
    return on_lane(frame, b.lane, scale, at);
  if (b.reel.holds(at))
    return *reel_at(frame, size, at);
  return on_board(frame, b.own.board, at);
}

} // namespace landfall::render
