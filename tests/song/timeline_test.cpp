#include "song/parser.hpp"
#include "song/timeline.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace landfall;
using namespace landfall::song;

TEST_CASE("one tempo: a quarter at 120 is half a second") {
  const TempoMap map(tempo_from_bpm(120));
  CHECK(map.time_at(Ticks{960}) == std::chrono::milliseconds(500));
  CHECK(map.time_at(Ticks{-960}) == std::chrono::milliseconds(-500));
  CHECK(map.tick_at(std::chrono::seconds(10)) == Ticks{19200});
  CHECK(map.tick_at(std::chrono::seconds(-1)) == Ticks{-1920});
}

TEST_CASE("a tempo holds from its tick on") {
  TempoMap map(tempo_from_bpm(120));
  map.change(Ticks{1920}, tempo_from_bpm(60));
  map.change(Ticks{2880}, tempo_from_bpm(240));
  CHECK(map.time_at(Ticks{1920}) == std::chrono::seconds(1));
  CHECK(map.time_at(Ticks{2880}) == std::chrono::seconds(2));
  CHECK(map.time_at(Ticks{3840}) == std::chrono::milliseconds(2250));
  CHECK(map.tempo_at(Ticks{1919}) == tempo_from_bpm(120));
  CHECK(map.tempo_at(Ticks{1920}) == tempo_from_bpm(60));
  CHECK(map.tempo_at(Ticks{-5}) == tempo_from_bpm(120));
  CHECK(map.changes().size() == 3);
}

TEST_CASE("the same tempo again is no change, and a later word for the same tick counts") {
  TempoMap map(tempo_from_bpm(120));
  map.change(Ticks{960}, tempo_from_bpm(120));
  CHECK(map.changes().size() == 1);
  map.change(Ticks{960}, tempo_from_bpm(90));
  map.change(Ticks{960}, tempo_from_bpm(80));
  REQUIRE(map.changes().size() == 2);
  CHECK(map.changes()[1] == TempoMap::Change{Ticks{960}, tempo_from_bpm(80)});
}

TEST_CASE("tick to time to tick is the identity over hours of changing tempos") {
  std::mt19937 random(7);
  TempoMap map({500'001});
  Ticks at{0};
  for (int i = 0; i < 5'000; ++i) {
    at += Ticks{1 + static_cast<std::int64_t>(random() % 20'000)};
    map.change(at, {150'000 + static_cast<std::int64_t>(random() % 2'850'000)});
  }
  for (int i = 0; i < 100'000; ++i) {
    const Ticks tick{static_cast<std::int64_t>(random() % 120'000'000U) - 10'000'000};
    REQUIRE(map.tick_at(map.time_at(tick)) == tick);
  }
  for (const TempoMap::Change& change : map.changes())
    for (const int nearby : {-1, 0, 1}) {
      const Ticks tick = change.at + Ticks{nearby};
      REQUIRE(map.tick_at(map.time_at(tick)) == tick);
      REQUIRE(map.time_at(tick) < map.time_at(tick + Ticks{1}));
    }
}

TEST_CASE("nothing adds up over ten hours, however often the tempo changes") {
  TempoMap map({333'331});
  for (std::int64_t i = 1; i <= 100'000; ++i)
    map.change(Ticks{i * 1'001}, {i % 2 == 0 ? 333'331 : 333'337});
  // 50,000 stretches of 1,001 ticks at each tempo
  const std::int64_t fine = 50'000LL * 1'001 * 25 * (333'331LL + 333'337LL);
  CHECK(map.time_at(Ticks{100'000 * 1'001}).count() == (fine + 12) / 24);
  const TempoMap steady({333'331});
  CHECK(steady.time_at(Ticks{100'000'000}).count() == (100'000'000LL * 333'331 * 25 + 12) / 24);
}

TEST_CASE("times between ticks go to the nearest tick") {
  const TempoMap map(tempo_from_bpm(120)); // 520833.3 ns a tick
  CHECK(map.tick_at(Nanoseconds{260'416}) == Ticks{0});
  CHECK(map.tick_at(Nanoseconds{260'417}) == Ticks{1});
  CHECK(map.tick_at(Nanoseconds{-260'416}) == Ticks{0});
  CHECK(map.tick_at(Nanoseconds{-260'417}) == Ticks{-1});
}

TEST_CASE("a song's tempos come round with every chorus") {
  const Form form = unroll(*parse_song("key: A\ntempo: 120\n| A |\ntempo: 60\n| D |"));
  const TempoMap map = tempo_map(form, 3);
  CHECK(map.time_at(form.length) == std::chrono::seconds(6));
  CHECK(map.time_at(form.length * 3) == std::chrono::seconds(18));
  CHECK(map.tempo_at(form.length) == tempo_from_bpm(120));
  CHECK(map.changes().size() == 6);
  CHECK(tempo_map(unroll(*parse_song("key: A\n| A |")), 3).changes().size() == 1);
}

TEST_CASE("places are read and written") {
  struct Line {
    std::string text;
    Place place;
    std::string written;
  };
  const Line lines[] = {
      {"3:2.5", {3, 1'500'000}, "3:2.5"},
      {"1:1", {1, 0}, "1:1"},
      {"12", {12, 0}, "12:1"},
      {"1:4.333333", {1, 3'333'333}, "1:4.333333"},
      {"1:4.3333333", {1, 3'333'333}, "1:4.333333"},
      {"2:1.050", {2, 50'000}, "2:1.05"},
  };
  for (const Line& line : lines) {
    CAPTURE(line.text);
    const auto place = parse_place(line.text);
    REQUIRE(place);
    CHECK(*place == line.place);
    CHECK(ascii(*place) == line.written);
  }
  for (const std::string text : {"", "0:1", "1:0", "1:", ":1", "1:1.", "1:2.x", "a", "1;2", "-1:2",
                                 "1:-2", "1:1:1", "99999999999:1", "1:99999999999", "1 :2"})
    CHECK_FALSE(parse_place(text));
}

TEST_CASE("tick to place to tick is the identity for every tick of a form") {
  const Form form = unroll(*parse_song("key: A\n| A |\nmeter: 6/8\n| D |\nmeter: 7/8\n| A |\n"
                                       "meter: 2/2\n| E |\nmeter: 15/16\n| E |"));
  for (Ticks tick{0}; tick < form.length; tick += Ticks{1}) {
    const Place place = place_at(form, tick);
    const auto back = tick_of(form, place);
    REQUIRE(back);
    REQUIRE(*back == tick);
    REQUIRE(*parse_place(ascii(place)) == place);
  }
  CHECK(ascii(place_at(form, Ticks{3840 + 1440})) == "2:2");
  CHECK(beat_number(place_at(form, Ticks{1440})) == doctest::Approx(2.5));
}

TEST_CASE("places outside the form are errors") {
  const Form form = unroll(*parse_song("key: A\n| A | D |"));
  CHECK(*tick_of(form, *parse_place("2:4.999")) == Ticks{3840 + 3839});
  CHECK_FALSE(tick_of(form, *parse_place("3:1")));
  CHECK_FALSE(tick_of(form, *parse_place("1:5")));
  CHECK_FALSE(tick_of(form, *parse_place("1:4.9999")));
}
