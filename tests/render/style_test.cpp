#include "render/style.hpp"

#include <doctest/doctest.h>

#include <initializer_list>

using namespace landfall::render;

TEST_CASE("contrast of white on black is 21 and of a colour on itself 1") {
  CHECK(contrast(rgb(0xFFFFFF), rgb(0x000000)) == doctest::Approx(21.0));
  CHECK(contrast(rgb(0x336699), rgb(0x336699)) == doctest::Approx(1.0));
}

TEST_CASE("running text has a contrast of 7, labels 4.5, marks 3, in both themes") {
  for (const Theme theme : {Theme::stage, Theme::paper}) {
    const Palette& p = palette(theme);
    INFO("theme " << static_cast<int>(theme));
    for (const Color under : {p.ground, p.panel}) {
      CHECK(contrast(p.text, under) >= 7.0);
      CHECK(contrast(p.quiet, under) >= 7.0);
    }
    CHECK(contrast(p.on_sand, p.sand) >= 4.5);
    for (const Color under : {p.board, p.hand, p.ground, p.black_key, p.black_key_hand})
      for (const Color mark : {p.sand, p.tide, p.quiet, p.sounding, p.text})
        CHECK(contrast(mark, under) >= 3.0);
  }
}

TEST_CASE("mixing goes from one colour to the other") {
  CHECK(mix(rgb(0x102030), rgb(0xF0E0D0), 0.0) == rgb(0x102030));
  CHECK(mix(rgb(0x102030), rgb(0xF0E0D0), 1.0) == rgb(0xF0E0D0));
  CHECK(mix(rgb(0x000000), rgb(0xFFFFFF), 0.5) == rgb(0x808080));
}

TEST_CASE("lengths follow the window, text also the text scale, and never falls below eleven") {
  CHECK(Scale({1920, 1080}, 1.0).px(48) == 48);
  CHECK(Scale({3840, 2160}, 1.0).px(48) == 96);
  CHECK(Scale({720, 1080}, 1.0).px(48) == 24);
  CHECK(Scale({1920, 1080}, 2.0).text(26) == 52);
  CHECK(Scale({1920, 1080}, 9.0).text(26) == 52);
  CHECK(Scale({800, 450}, 0.75).text(26) == 11);
  CHECK(Scale({1920, 1080}, 2.0).display(60) < 120);
}
