#include "render/fake_metrics.hpp"
#include "render/grounds.hpp"
#include "render/layout.hpp"
#include "render/sample_frames.hpp"
#include "render/samples_at.hpp"

#include <doctest/doctest.h>

// Contrast where things are drawn. Faded notes are the exception on purpose: a light that goes out
// is meant to be missed, so all brightness is full here.

using namespace landfall::render;
using checks::faint;

TEST_CASE("words and marks stand out from what they are drawn on, on every page") {
  const FakeMetrics metrics;
  samples::each_at(samples::usual_sizes, {0.75, 1.0, 2.0}, [&](const samples::At& at) {
    INFO(at.words());
    CHECK(faint(layout(samples::at_full_brightness(at.frame), at.size, metrics),
                palette(at.frame.theme)) == "");
  });
}

TEST_CASE("a colour that is too weak is found where it is drawn") {
  const FakeMetrics metrics;
  DrawList list = layout(samples::jam(), {1280, 720}, metrics);
  REQUIRE(faint(list, stage_palette) == "");
  for (const Color victim : {stage_palette.quiet, stage_palette.sand, stage_palette.tide}) {
    DrawList mutated = list;
    for (Command& command : mutated.commands)
      std::visit(
          [&](auto& c) {
            if constexpr (requires { c.color; })
              c.color = c.color == victim ? rgb(0x4A5560) : c.color;
          },
          command);
    CHECK(faint(mutated, stage_palette) != "");
  }
}

TEST_CASE("what lies under a text is the last area drawn there, within its clip") {
  const Color low = rgb(0x000000), high = rgb(0xFFFFFF), gray = rgb(0x808080);
  Text word{Face::regular, 20, {20, 40}, {30, 14, 4}, high, 0, "word"};
  DrawList list{{100, 100}, {Fill{{0, 0, 100, 100}, low}, word}};
  CHECK(faint(list, stage_palette) == "");
  list.commands = {Fill{{0, 0, 100, 100}, low}, Disc{{35, 35}, 30, gray}, word};
  CHECK(faint(list, stage_palette).find("text #FFFFFF on #808080 is 3.95: word") !=
        std::string::npos);
  list.commands = {Fill{{0, 0, 100, 100}, low}, Clip{{60, 0, 40, 100}},
                   Fill{{0, 0, 100, 100}, gray}, Clip{{0, 0, 100, 100}}, word};
  CHECK(faint(list, stage_palette).find("text") == std::string::npos);
}
