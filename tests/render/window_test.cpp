#include "render/layout.hpp"
#include "render/sample_frames.hpp"
#include "render/window.hpp"

#include <doctest/doctest.h>

#include <cstdlib>

using namespace landfall::render;

namespace {

WindowOptions options() {
  WindowOptions o;
  o.font_folder = std::string(LANDFALL_SOURCE_DIR) + "/assets/fonts";
  o.size = {900, 500};
  return o;
}

} // namespace

TEST_CASE("a window on a driver without a screen: paints what changed, and nothing twice") {
  setenv("SDL_VIDEODRIVER", "dummy", 1);
  auto window = Window::open(options());
  REQUIRE(window);
  Window& w = **window;
  CHECK(w.painter_name() == "software");
  CHECK(w.size() == Size{900, 500});
  const DrawList first = layout(samples::jam(1.0), w.size(), w.fonts());
  CHECK(w.present(first));
  const auto whole = w.copied_pixels();
  CHECK(whole == 900 * 500);
  CHECK_FALSE(w.present(first));
  CHECK(w.copied_pixels() == whole);
  CHECK(w.present(layout(samples::jam(1.2), w.size(), w.fonts())));
  CHECK(w.copied_pixels() > whole);
  CHECK(w.copied_pixels() < whole * 3 / 2);
  w.events(std::chrono::milliseconds(0));
  w.set_title("Harbour Lane");
  CHECK_FALSE(w.full_screen());
}

TEST_CASE("windows can be opened one after the other, and are never smaller than 800x450") {
  setenv("SDL_VIDEODRIVER", "dummy", 1);
  WindowOptions small = options();
  small.size = {10, 10};
  small.display = 77;
  for (int i = 0; i < 2; ++i) {
    auto window = Window::open(small);
    REQUIRE(window);
    CHECK((*window)->size() == Size{800, 450});
  }
}

TEST_CASE("no screen, or no fonts, is one clear line") {
  setenv("SDL_VIDEODRIVER", "no-such-driver", 1);
  const auto none = Window::open(options());
  REQUIRE_FALSE(none);
  CHECK(none.error().find("no window can be opened") == 0);
  setenv("SDL_VIDEODRIVER", "dummy", 1);
  WindowOptions fontless = options();
  fontless.font_folder = "/nowhere";
  const auto window = Window::open(fontless);
  REQUIRE_FALSE(window);
  CHECK(window.error().find("/nowhere") != std::string::npos);
}
