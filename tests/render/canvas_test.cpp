#include "render/canvas.hpp"
#include "render/changes.hpp"
#include "render/layout.hpp"
#include "render/picture.hpp"
#include "render/png.hpp"
#include "render/sample_frames.hpp"
#include "render/sample_motion.hpp"
#include "render/texture_cache.hpp"

#include <doctest/doctest.h>

#include <initializer_list>

using namespace landfall::render;

namespace {

const std::string fonts_folder = std::string(LANDFALL_SOURCE_DIR) + "/assets/fonts";

std::vector<std::uint32_t> copy(const Canvas& canvas) {
  return {canvas.pixels().begin(), canvas.pixels().end()};
}

} // namespace

TEST_CASE("repainting only what changed gives the same pixels as painting everything") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  const Size size{960, 540};
  auto updated = Canvas::create(size, **fonts);
  auto whole = Canvas::create(size, **fonts);
  REQUIRE(updated);
  REQUIRE(whole);
  std::vector<Frame> sequence;
  for (int i = 0; i < 25; ++i)
    sequence.push_back(samples::jam(i * 0.16));
  for (const auto& [name, frame] : samples::all())
    sequence.push_back(frame);
  std::size_t smaller = 0;
  for (const Frame& frame : sequence) {
    const DrawList list = layout(frame, size, **fonts);
    int painted = 0;
    for (const Rect& area : (*updated)->update(list))
      painted += area.width * area.height;
    smaller += painted < size.width * size.height / 2 ? 1 : 0;
    (*whole)->paint(list);
    CHECK(copy(**updated) == copy(**whole));
  }
  CHECK(smaller > 15);
}

TEST_CASE("a playing frame repaints where the lane moves and arcs close, a still one nothing") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  const Size size{1280, 720};
  struct Share {
    Frame frame;
    double most;
  };
  for (const auto& share : {Share{samples::jam(), 0.36}, Share{samples::trade(), 0.22}}) {
    CAPTURE(share.frame.status.title);
    auto canvas = Canvas::create(size, **fonts);
    REQUIRE(canvas);
    const auto frames = samples::playing(share.frame, 60);
    (*canvas)->paint(layout(frames.front(), size, **fonts));
    const auto whole = (*canvas)->painted_pixels();
    CHECK(whole == 1280 * 720);
    for (const Frame& next : frames)
      (*canvas)->update(layout(next, size, **fonts));
    const auto playing = (*canvas)->painted_pixels() - whole;
    CHECK(playing > 0);
    CHECK(static_cast<double>(playing) / static_cast<double>(whole * frames.size()) < share.most);
    for (int i = 0; i < 10; ++i)
      CHECK((*canvas)->update(layout(frames.back(), size, **fonts)).empty());
    CHECK((*canvas)->painted_pixels() == whole + playing);
  }
}

TEST_CASE("an unchanged list repaints nothing") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  ChangeFinder changes;
  const DrawList list = layout(samples::jam(), {960, 540}, **fonts);
  CHECK(changes.changed(list).size() == 1);
  CHECK(changes.changed(list).empty());
  changes.forget();
  CHECK(changes.changed(list).size() == 1);
}

TEST_CASE("a line that differs in one respect is a change") {
  const Line line{{10, 10}, {30, 30}, 2.0F, rgb(0x808080)};
  Line others[] = {line, line, line, line};
  others[0].from.y = 12;
  others[1].to.x = 28;
  others[2].stroke = 2.5F;
  others[3].color = rgb(0x808081);
  for (const Line& other : others) {
    ChangeFinder changes;
    changes.changed({{100, 100}, {line}});
    CHECK(changes.changed({{100, 100}, {other}}).size() == 1);
  }
}

TEST_CASE("changed areas do not meet and lie in the window") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  const Size size{1000, 610};
  ChangeFinder changes;
  changes.changed(layout(samples::jam(1.0), size, **fonts));
  const auto areas = changes.changed(layout(samples::jam(1.3), size, **fonts));
  REQUIRE(areas.size() > 1);
  for (std::size_t a = 0; a < areas.size(); ++a) {
    CHECK(Rect{0, 0, size.width, size.height}.holds(areas[a]));
    for (std::size_t b = a + 1; b < areas.size(); ++b)
      CHECK_FALSE(meet(areas[a], areas[b]));
  }
}

TEST_CASE("pictures are the same bytes every time, and errors are one clear line" *
          doctest::skip(!png_supported())) {
  const auto a = render_png(samples::jam(), {640, 360}, fonts_folder);
  const auto b = render_png(samples::jam(), {640, 360}, fonts_folder);
  REQUIRE(a);
  REQUIRE(b);
  CHECK(*a == *b);
  CHECK(a->at(1) == 'P');
  CHECK_FALSE(render_png(samples::jam(), {0, 100}, fonts_folder));
  CHECK_FALSE(render_png(samples::jam(), {9000, 100}, fonts_folder));
  CHECK_FALSE(render_png(samples::jam(), {640, 360}, "/nowhere"));
}

TEST_CASE("the cache drops what was used longest ago when it is full") {
  TextureCache cache(1000);
  int made = 0;
  auto get = [&](const char* key) {
    cache.get(key, [&] {
      ++made;
      return Sprite{nullptr, 10, 10}; // 400 bytes
    });
  };
  get("a");
  get("b");
  get("a");
  CHECK(made == 2);
  get("c");
  CHECK(cache.bytes() == 800);
  get("a");
  CHECK(made == 3);
  get("b");
  CHECK(made == 4);
}

TEST_CASE("fonts that were used longest ago are closed, and a picture that is shown opens none") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  for (int height = 450; height <= 1080; height += 90) {
    CAPTURE(height);
    const Size size{height * 16 / 9, height};
    for (const auto& sample : samples::all()) {
      CAPTURE(sample.name);
      auto canvas = Canvas::create(size, **fonts);
      REQUIRE(canvas);
      const auto before = (*fonts)->opened();
      (*canvas)->paint(layout(sample.frame, size, **fonts));
      const auto opened = (*fonts)->opened();
      CHECK(opened - before <= most_open_fonts);
      CHECK((*fonts)->open_now() <= most_open_fonts);
      (*canvas)->paint(layout(sample.frame, size, **fonts));
      CHECK((*fonts)->opened() == opened);
    }
  }
  CHECK((*fonts)->opened() > 2 * most_open_fonts);
}

TEST_CASE("the textures of one size of window are gone when another one is painted") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  auto alone = Canvas::create({1600, 900}, **fonts);
  auto after = Canvas::create({1600, 900}, **fonts);
  REQUIRE(alone);
  REQUIRE(after);
  const DrawList small = layout(samples::jam(), {800, 450}, **fonts);
  const DrawList large = layout(samples::jam(), {1600, 900}, **fonts);
  (*after)->paint(small);
  const auto for_small = (*after)->texture_bytes();
  (*after)->paint(large);
  (*alone)->paint(large);
  CHECK(for_small > 0);
  CHECK((*after)->texture_bytes() == (*alone)->texture_bytes());
  (*after)->paint(small);
  CHECK((*after)->texture_bytes() == for_small);
}

TEST_CASE("textures stay within their bytes over a long session") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  const Size size{960, 540};
  auto canvas = Canvas::create(size, **fonts);
  REQUIRE(canvas);
  for (int i = 0; i < 400; ++i)
    (*canvas)->update(layout(samples::jam(i * 0.01), size, **fonts));
  CHECK((*canvas)->texture_bytes() <= std::size_t{2 * 960 * 540 * 4});
}
