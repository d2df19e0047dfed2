#include "band/fixture.hpp"
#include "band/walk.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::band;
using band::testing::shipped;

namespace {

song::Form form_with_pickup(const std::string& pickup) {
  const auto song = song::parse_song("title: A\nkey: F\nfeel: swing\nPick-up:\n| " + pickup +
                                     " |\nTune:\n| F | Bb | C7 | F |\n");
  REQUIRE(song);
  return song::unroll(*song);
}

std::vector<Event> of(const std::vector<Event>& events, Part part) {
  std::vector<Event> result;
  std::copy_if(events.begin(), events.end(), std::back_inserter(result),
               [&](const Event& event) { return event.part == part; });
  return result;
}

} // namespace

TEST_CASE("a pick-up sounds where it stands, from its chord to the top, while the clicks go on") {
  const auto form = form_with_pickup("C7/E /");
  const auto events = plan_count_in(form, 2, shipped());
  const auto bass = of(events, Part::bass);
  REQUIRE(bass.size() == 1);
  CHECK(bass[0].at == -(quarter * 2));
  CHECK(bass[0].length == quarter * 2);
  CHECK(theory::pitch_class(bass[0].note) == 4);
  const auto comping = of(events, Part::comping);
  CHECK(comping.size() >= 3);
  for (const auto& event : comping) {
    CHECK(event.at == -(quarter * 2));
    CHECK(event.at + event.length == Ticks{0});
  }
  CHECK(of(events, Part::drums).empty());
  const auto clicks = of(events, Part::click);
  CHECK(clicks.front().at == -(quarter * 8));
  CHECK(clicks.back().at >= -quarter);
}

TEST_CASE("each chord of a pick-up is held to the next, in every feel, within the register") {
  for (const auto& name : shipped().names()) {
    auto form = form_with_pickup("N.C. / Gm7 C7");
    for (auto* bars : {&form.pickup, &form.bars})
      for (auto& bar : *bars)
        bar.feel = name;
    CAPTURE(name);
    const auto bass = of(plan_count_in(form, 1, shipped()), Part::bass);
    REQUIRE(bass.size() == 2);
    CHECK(bass[0].at == -(quarter * 2));
    CHECK(bass[0].at + bass[0].length == bass[1].at);
    CHECK(bass[1].at == -quarter);
    for (const auto& event : bass)
      CHECK((event.note >= lowest_bass && event.note <= highest_bass));
  }
}

TEST_CASE("without a pick-up, or without a count-in, nothing but clicks comes before the top") {
  const auto plain = band::testing::form_of("A | D", "A", "swing");
  for (const auto& event : plan_count_in(plain, 2, shipped()))
    CHECK(event.part == Part::click);
  CHECK(plan_count_in(form_with_pickup("C7 /"), 0, shipped()).empty());
}
