#include "render/canvas.hpp"
#include "render/fake_metrics.hpp"
#include "render/layout.hpp"
#include "render/png.hpp"
#include "render/sample_frames.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <sstream>

// LANDFALL_APPROVE=1 writes the approved files anew; look at them before committing.

using namespace landfall::render;

namespace {

const std::string source = LANDFALL_SOURCE_DIR;
const std::string approved = source + "/tests/render/approved/";

bool approving() {
  return std::getenv("LANDFALL_APPROVE") != nullptr;
}

std::string file_text(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

void write(const std::string& path, const char* bytes, std::size_t count) {
  std::ofstream(path, std::ios::binary).write(bytes, static_cast<std::streamsize>(count));
}

struct Case {
  const char* name;
  const char* frame;
  Theme theme;
  Size size;
  double text_scale;
};

Frame frame_of(const Case& c) {
  for (const auto& [name, frame] : samples::all())
    if (name == c.frame) {
      Frame out = frame;
      out.theme = c.theme;
      out.text_scale = c.text_scale;
      return out;
    }
  FAIL("no such frame: " << c.frame);
  return {};
}

constexpr Case texts[] = {
    {"jam-720", "jam", Theme::stage, {1280, 720}, 1.0},
    {"history-720", "history", Theme::stage, {1280, 720}, 1.0},
    {"history-450-paper", "history", Theme::paper, {800, 450}, 1.5},
    {"rig-720", "rig", Theme::stage, {1280, 720}, 1.0},
    {"rig-450-paper", "rig", Theme::paper, {800, 450}, 1.5},
    {"take-720", "take", Theme::stage, {1280, 720}, 1.0},
    {"take-450-paper", "take", Theme::paper, {800, 450}, 1.5},
    {"jam-1080-paper", "jam", Theme::paper, {1920, 1080}, 1.0},
    {"jam-small-large-text", "jam", Theme::stage, {800, 450}, 2.0},
    {"edit-720", "edit", Theme::paper, {1280, 720}, 1.0},
    {"edit-small-large-text", "edit", Theme::stage, {800, 450}, 2.0},
    {"heard-720", "heard", Theme::stage, {1280, 720}, 1.0},
    {"stopped-720", "stopped", Theme::stage, {1280, 720}, 1.0},
    {"keyboard-720", "keyboard", Theme::stage, {1280, 720}, 1.0},
    {"keyboard-4to3", "keyboard", Theme::paper, {1024, 768}, 1.3},
    {"crowded-720", "crowded", Theme::stage, {1280, 720}, 1.0},
    {"crowded-wide", "crowded", Theme::paper, {2560, 1080}, 0.75},
    {"counting-in-720", "counting-in", Theme::stage, {1280, 720}, 1.0},
    {"trade-720", "trade", Theme::stage, {1280, 720}, 1.0},
    {"trade-450-paper", "trade", Theme::paper, {800, 450}, 1.5},
    {"two-players-720", "two-players", Theme::stage, {1280, 720}, 1.0},
    {"two-players-450-paper", "two-players", Theme::paper, {800, 450}, 1.5},
    {"scene-720", "scene", Theme::paper, {1280, 720}, 1.0},
    {"bare-720", "bare", Theme::stage, {1280, 720}, 1.0},
    {"scene-of-trade-450", "scene-of-trade", Theme::stage, {800, 450}, 1.0},
    {"help-720", "help", Theme::stage, {1280, 720}, 1.0},
    {"songs-720", "songs", Theme::stage, {1280, 720}, 1.0},
    {"beside-720", "beside", Theme::paper, {1280, 720}, 1.0},
    {"grip-720", "grip", Theme::stage, {1280, 720}, 1.0},
    {"groups-720", "groups", Theme::stage, {1280, 720}, 1.0},
    {"key-groups-720", "key-groups", Theme::paper, {1280, 720}, 1.0},
    {"places-1080", "places", Theme::paper, {1920, 1080}, 1.0},
    {"places-small-large-text", "places", Theme::stage, {800, 450}, 2.0},
    {"places-4to3", "places", Theme::stage, {1024, 768}, 1.0},
};

constexpr Size picture_size{960, 540};
constexpr Case pictures[] = {
    {"jam-stage", "jam", Theme::stage, picture_size, 1.0},
    {"jam-paper", "jam", Theme::paper, picture_size, 1.0},
    {"heard-stage", "heard", Theme::stage, picture_size, 1.0},
    {"stopped-stage", "stopped", Theme::stage, picture_size, 1.0},
    {"keyboard-paper", "keyboard", Theme::paper, picture_size, 1.0},
    {"crowded-stage", "crowded", Theme::stage, picture_size, 1.3},
    {"trade-stage", "trade", Theme::stage, picture_size, 1.0},
    {"scene-paper", "scene", Theme::paper, picture_size, 1.0},
    {"songs-stage", "songs", Theme::stage, picture_size, 1.0},
    {"groups-paper", "groups", Theme::paper, picture_size, 1.0},
    {"places-stage", "places", Theme::stage, picture_size, 1.0},
    {"help-stage", "help", Theme::stage, picture_size, 1.0},
    {"history-paper", "history", Theme::paper, picture_size, 1.0},
    {"rig-stage", "rig", Theme::stage, picture_size, 1.0},
    {"take-paper", "take", Theme::paper, picture_size, 1.0},
    {"edit-stage", "edit", Theme::stage, picture_size, 1.0},
    {"two-players-4to3-paper", "two-players", Theme::paper, {800, 600}, 1.0},
    {"ports-wide-large-stage", "ports", Theme::stage, {1280, 540}, 1.6},
};

/// Largest difference of a channel.
int difference(std::uint32_t a, std::uint32_t b) {
  int most = 0;
  for (const int shift : {0, 8, 16})
    most = std::max(most, std::abs(static_cast<int>((a >> shift) & 0xFF) -
                                   static_cast<int>((b >> shift) & 0xFF)));
  return most;
}

} // namespace

TEST_CASE("draw commands are those approved") {
  const FakeMetrics metrics;
  for (const Case& c : texts) {
    const std::string now = dump(layout(frame_of(c), c.size, metrics));
    const std::string path = approved + c.name + ".txt";
    if (approving())
      write(path, now.data(), now.size());
    INFO(path);
    const bool same = file_text(path) == now;
    CHECK(same);
  }
}

TEST_CASE("pictures are those approved, up to small differences between versions of libraries" *
          doctest::skip(!png_supported())) {
  const auto fonts = Fonts::open(source + "/assets/fonts");
  REQUIRE(fonts);
  for (const Case& c : pictures) {
    auto canvas = Canvas::create(c.size, **fonts);
    REQUIRE(canvas);
    (*canvas)->paint(layout(frame_of(c), c.size, **fonts));
    const auto pixels = (*canvas)->pixels();
    const std::string path = approved + c.name + ".png";
    if (approving()) {
      const auto bytes = png_bytes(pixels, c.size);
      REQUIRE(bytes);
      write(path, reinterpret_cast<const char*>(bytes->data()), bytes->size());
    }
    const auto expected = read_png(path);
    INFO(path);
    REQUIRE(expected);
    REQUIRE(expected->size == c.size);
    std::size_t different = 0;
    for (std::size_t i = 0; i < pixels.size(); ++i)
      different += difference(pixels[i], expected->pixels[i]) > 24 ? 1 : 0;
    CHECK(different < pixels.size() / 1000);
  }
}
