#include "app/hands.hpp"
#include "app/library.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

namespace {
constexpr TimePoint now{Nanoseconds{7'777'777'777}};
Hands::Strike at(TimePoint when, std::int64_t tick) {
  return {when, Ticks{tick}, ear::NoteClass::outside, {}, {}};
}
} // namespace

TEST_CASE("a note sounds until it is let go, then fades") {
  Hands hands;
  hands.strike({0, 60}, at(now, 100));
  REQUIRE(hands.sounding(now + std::chrono::seconds(60)).size() == 1);
  CHECK(hands.sounding(now)[0].brightness == 1.0);
  hands.release({0, 60}, now + std::chrono::seconds(1), Ticks{500});
  const auto fading = hands.sounding(now + std::chrono::milliseconds(1100));
  REQUIRE(fading.size() == 1);
  CHECK(fading[0].brightness < 1.0);
  CHECK(hands.fading(now + std::chrono::milliseconds(1100)));
  CHECK(hands.sounding(now + std::chrono::seconds(2)).empty());
  REQUIRE(hands.played().size() == 1);
  CHECK(hands.played()[0].from == Ticks{100});
  CHECK(hands.played()[0].to == Ticks{500});
}

TEST_CASE("the same pitch from two sources ends for each on its own") {
  Hands hands;
  hands.strike({0, 60}, at(now, 0));
  hands.strike({1, 60}, at(now, 0));
  hands.release({0, 60}, now, Ticks{10});
  CHECK(hands.sounding(now + std::chrono::seconds(1)).size() == 1);
}

TEST_CASE("a note struck again without an end begins anew") {
  Hands hands;
  hands.strike({0, 60}, at(now, 0));
  hands.strike({0, 60}, at(now, 480));
  const auto played = hands.played();
  REQUIRE(played.size() == 2);
  CHECK(played[0].to == Ticks{480});
  CHECK_FALSE(played[1].to);
}

TEST_CASE("bends move what sounds on their channel") {
  Hands hands;
  hands.strike({3, 60}, at(now, 0));
  hands.bend(3, 1.5);
  CHECK(hands.sounding(now)[0].bend == 1.5);
  hands.bend(2, 0.5);
  CHECK(hands.sounding(now)[0].bend == 1.5);
}

TEST_CASE("hours of notes stay small") {
  Hands hands;
  for (int i = 0; i < 100'000; ++i) {
    const auto when = now + std::chrono::milliseconds(100 * i);
    hands.strike({0, 40 + i % 40}, at(when, i * 100));
    hands.release({0, 40 + i % 40}, when + std::chrono::milliseconds(50), Ticks{i * 100 + 50});
    hands.tidy(when, Ticks{i * 100 - 30'000});
  }
  CHECK(hands.played().size() < 600);
}

TEST_CASE("all that is let go at once ends in the trace too, and leaves no bend behind") {
  Hands hands;
  hands.strike({0, 64}, at(now, 960));
  hands.bend(0, 1.5);
  hands.release_all(now, Ticks{1920});
  REQUIRE(hands.played().size() == 1);
  CHECK(hands.played()[0].to == Ticks{1920});
  hands.strike({0, 65}, at(now, 1920));
  for (const auto& note : hands.sounding(now))
    CHECK(note.bend == (note.midi == 64 ? 1.5 : 0.0));
}

TEST_CASE("a note that is let go keeps its bend while it fades") {
  Hands hands;
  hands.strike({2, 60}, at(now, 0));
  hands.bend(2, 2.0);
  hands.release({2, 60}, now, Ticks{10});
  hands.bend(2, 0.0);
  hands.strike({2, 62}, at(now, 10));
  for (const auto& note : hands.sounding(now))
    CHECK(note.bend == (note.midi == 60 ? 2.0 : 0.0));
}

TEST_CASE("a string and a pitch tell the fret") {
  const auto guitar = *load_instrument("guitar");
  CHECK(fret_of(guitar, 1, 64) == 0);
  CHECK(fret_of(guitar, 6, 45) == 5);
  CHECK(fret_of(guitar, 2, 71) == 12);
  CHECK_FALSE(fret_of(guitar, 6, 39));
  CHECK_FALSE(fret_of(guitar, 7, 45));
  CHECK_FALSE(fret_of(*load_instrument("keyboard"), 1, 64));
}
