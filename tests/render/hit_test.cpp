#include "render/bands.hpp"
#include "render/hit.hpp"
#include "render/keyboard_geometry.hpp"
#include "render/lane.hpp"
#include "render/neck_geometry.hpp"
#include "render/pages.hpp"
#include "render/places.hpp"
#include "render/sample_frames.hpp"

#include <doctest/doctest.h>

#include <initializer_list>

using namespace landfall::render;

namespace {

constexpr Size sizes[] = {{800, 450}, {1024, 768}, {1920, 1080}};

} // namespace

TEST_CASE("a click on a place finds the place, on every neck, flipped or not") {
  for (const Size size : sizes)
    for (const int flips : {0, 1, 2, 3, 4, 7})
      for (const int first : {0, 3}) {
        Frame frame = samples::jam();
        auto& neck = std::get<Neck>(frame.board);
        neck.left_handed = (flips & 1) != 0;
        neck.seen_by_player = (flips & 2) != 0;
        neck.true_spacing = (flips & 4) != 0;
        neck.first_fret = first;
        neck.last_fret = first + 9;
        const NeckGeometry geometry(neck, bands(frame, size).own.board);
        for (int string = 1; string <= 6; ++string)
          for (int fret = first; fret <= first + 9; ++fret) {
            INFO("string " << string << " fret " << fret << " flips " << flips);
            CHECK(hit(frame, size, geometry.place(string, fret)) == Hit(HitPlace{string, fret}));
          }
      }
}

TEST_CASE("a click on a key finds the key") {
  for (const Size size : sizes) {
    const Frame frame = samples::keyboard();
    const KeyboardGeometry geometry(std::get<Keyboard>(frame.board), bands(frame, size).own.board);
    for (int midi = geometry.lowest(); midi <= geometry.highest(); ++midi)
      CHECK(hit(frame, size, geometry.place(midi)) == Hit(HitKey{midi}));
  }
}

TEST_CASE("a click in the lane finds the bar and the beat") {
  for (const Size size : sizes) {
    const Frame frame = samples::jam(1.0);
    const Rect lane = bands(frame, size).lane;
    const LaneGeometry geometry(frame, lane, Scale(size, 1.0));
    const Hit found = hit(frame, size, {geometry.x(5.0) + 1, lane.middle().y});
    REQUIRE(std::holds_alternative<HitBar>(found));
    CHECK(std::get<HitBar>(found).tag == 6);
    CHECK(std::get<HitBar>(found).beat == doctest::Approx(2.0).epsilon(0.03));
  }
}

TEST_CASE("a click on the reel finds the place in the take, a drag beside it too; its ends hold") {
  for (const Size size : sizes) {
    const Frame frame = samples::take();
    const Rect reel = bands(frame, size).reel;
    const int margin = Scale(size, 1.0).px(space::margin);
    CHECK(reel.height >= 20);
    const Hit found = hit(frame, size, {reel.middle().x, reel.middle().y});
    REQUIRE(std::holds_alternative<HitReel>(found));
    CHECK(std::get<HitReel>(found).at == doctest::Approx(0.5).epsilon(0.01));
    CHECK(reel_at(frame, size, {margin, 0})->at == doctest::Approx(0.0));
    CHECK(reel_at(frame, size, {0, 0})->at == 0.0);
    CHECK(reel_at(frame, size, {size.width, size.height})->at == 1.0);
    CHECK_FALSE(reel_at(samples::jam(0.5), size, reel.middle()));
  }
}

TEST_CASE("a click on a scene's head asks for the list, on its line for the scene beside it") {
  Frame frame = samples::jam();
  const Size size{1280, 720};
  frame.scene = Scene{"4 of 12", "Thirds", {}, "", "", "Land on the third."};
  const auto part = [&](Point at) {
    const auto found_hit = hit(frame, size, at);
    const auto* found = std::get_if<HitScene>(&found_hit);
    return found == nullptr ? std::nullopt : std::optional(found->part);
  };
  CHECK(part({60, 12}) == HitScene::Part::scenes);
  CHECK(part({100, 712}) == HitScene::Part::back);
  CHECK(part({1200, 712}) == HitScene::Part::next);
  CHECK_FALSE(part({640, 400}));
  frame.scene->count.clear(); // no lesson: only the board and its chord
  CHECK_FALSE(part({1200, 712}));
}

TEST_CASE("a click on a list finds the row; elsewhere on a page it finds the page") {
  for (const Size size : sizes)
    for (const bool beside : {false, true}) {
      const Frame frame = samples::list(beside);
      const auto& page = std::get<ListPage>(frame.page);
      const ListGeometry geometry(page, bands(frame, size).page, Scale(size, 1.0));
      REQUIRE(geometry.shown > 3);
      for (int row = geometry.first; row < geometry.first + geometry.shown; ++row)
        CHECK(hit(frame, size, geometry.row(row).middle()) == Hit(HitRow{row}));
      const Rect rect = bands(frame, size).page;
      CHECK(hit(frame, size, {rect.x + 1, rect.y + 1}) == Hit(HitPage{}));
    }
}

TEST_CASE("a click on a panel finds the place; the lane above it still finds bars") {
  for (const Size size : sizes) {
    const Frame frame = samples::places();
    const auto& page = std::get<PlacesPage>(frame.page);
    const Rect rect = bands(frame, size).page;
    const PlacesGeometry geometry(page, rect, Scale(size, 1.0));
    REQUIRE(geometry.panels().size() == 5);
    for (int i = 0; i < 5; ++i) {
      const auto& panel = geometry.panels()[static_cast<std::size_t>(i)];
      for (const Rect& part : {panel.heading, panel.board, panel.numbers})
        CHECK(hit(frame, size, part.middle()) == Hit(HitPanel{i}));
    }
    CHECK(hit(frame, size, {rect.x + 1, rect.middle().y}) == Hit(HitPage{}));
    CHECK(std::holds_alternative<HitBar>(
        hit(frame, size, {size.width / 2, bands(frame, size).lane.middle().y})));
  }
}

TEST_CASE("the row with the focus is in view") {
  Frame frame = samples::list(false);
  auto& page = std::get<ListPage>(frame.page);
  for (page.selected = 0; page.selected < static_cast<int>(page.rows.size()); ++page.selected) {
    const ListGeometry geometry(page, bands(frame, {800, 450}).page, Scale({800, 450}, 1.0));
    CHECK(geometry.first <= page.selected);
    CHECK(page.selected < geometry.first + geometry.shown);
  }
}

TEST_CASE("beside the board and in the status line there is nothing to hit") {
  const Frame frame = samples::jam();
  CHECK(hit(frame, {1920, 1080}, {5, 700}) == Hit());
  CHECK(hit(frame, {1920, 1080}, {900, 20}) == Hit());
  CHECK(hit(frame, {1920, 1080}, {-50, -50}) == Hit());
}

TEST_CASE("with true spacing frets narrow towards the body by the twelfth root of two") {
  Neck neck;
  neck.strings.resize(6);
  neck.first_fret = 0;
  neck.last_fret = 12;
  neck.true_spacing = true;
  const NeckGeometry geometry(neck, {0, 0, 4000, 400});
  for (int fret = 1; fret < 12; ++fret) {
    const double here = geometry.wire_x(fret) - geometry.wire_x(fret - 1);
    const double next = geometry.wire_x(fret + 1) - geometry.wire_x(fret);
    CHECK(here / next == doctest::Approx(1.0595).epsilon(0.02));
  }
}
