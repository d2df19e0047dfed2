#include "band/fixture.hpp"
#include "band/strikes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <map>

using namespace landfall;
using namespace landfall::band;
using band::testing::form_of;
using band::testing::request_for;
using band::testing::shipped;

namespace {

/// Events of several choruses on one line.
std::vector<Event> chained(const song::Form& form, int choruses, double intensity, bool humanised) {
  std::vector<Event> all;
  for (int chorus = 0; chorus < choruses; ++chorus) {
    auto request = request_for(form, chorus, intensity, 5);
    request.humanised = humanised;
    for (auto event : plan_chorus(request, shipped())) {
      event.at += form.length * chorus;
      all.push_back(event);
    }
  }
  return all;
}

} // namespace

TEST_CASE("choruses follow each other without a clash") {
  for (const auto& name : shipped().names())
    for (const auto& form : band::testing::forms(name))
      for (const double intensity : {0.1, 0.5, 0.9})
        for (const bool humanised : {false, true}) {
          CAPTURE(name);
          CAPTURE(intensity);
          CAPTURE(humanised);
          CAPTURE(form.bars.front().meter.beats);
          CAPTURE(form.bars.front().meter.unit);
          CAPTURE(form.bars.size());
          auto all = chained(form, 6, intensity, humanised);
          std::stable_sort(all.begin(), all.end(),
                           [](const Event& a, const Event& b) { return a.at < b.at; });
          std::map<std::pair<Part, int>, Ticks> sounding_to;
          int clashes = 0;
          for (const auto& event : all) {
            const auto key = std::pair(event.part, event.note.number);
            auto& end = sounding_to.try_emplace(key, event.at).first->second;
            clashes += end > event.at ? 1 : 0;
            end = event.at + event.length;
          }
          CHECK(clashes == 0);
        }
}

TEST_CASE("only pushes lie before the top, and there are some") {
  int early = 0;
  for (const auto& name : shipped().names())
    for (int chorus = 0; chorus < 8; ++chorus) {
      const auto form = form_of("A | D | E | A", "A", name);
      for (const auto& event : plan_chorus(request_for(form, chorus, 0.9), shipped()))
        if (event.at < Ticks{0}) {
          CHECK(event.part != Part::drums);
          CHECK(event.at + event.length > Ticks{0});
          ++early;
        }
    }
  CHECK(early > 0);
}

TEST_CASE("a chorus makes way for the next one's push") {
  const auto form = form_of("A | D | E | A", "A", "straight-eighths");
  for (int chorus = 0; chorus < 8; ++chorus) {
    auto next = request_for(form, chorus + 1, 0.9);
    const Ticks push = push_before_top(next, shipped(), Part::comping);
    for (const auto& event : plan_chorus(request_for(form, chorus, 0.9), shipped()))
      if (event.part == Part::comping)
        CHECK(event.at + event.length <= form.length + push);
    bool found = push == Ticks{0};
    for (const auto& event : plan_chorus(next, shipped()))
      found = found || (event.part == Part::comping && event.at == push);
    CHECK(found);
  }
}

TEST_CASE("a push before the top sounds the first chord") {
  const auto form = form_of("A | D | E | E7", "A", "straight-eighths");
  for (int chorus = 0; chorus < 8; ++chorus)
    for (const auto& event : plan_chorus(request_for(form, chorus, 0.9), shipped()))
      if (event.at < Ticks{0} && event.part == Part::comping)
        CHECK(theory::degree_in(*theory::parse_chord("A"), theory::pitch_class(event.note)));
}

TEST_CASE("humanising moves events by a few milliseconds and is off by default") {
  const auto form = form_of("A | D | E | A", "A", "straight-eighths");
  auto request = request_for(form);
  const auto exact = plan_chorus(request, shipped());
  for (const auto& event : exact)
    CHECK(event.at.count % 240 == 0);
  request.humanised = true;
  const auto loose = plan_chorus(request, shipped());
  CHECK(loose == plan_chorus(request, shipped()));
  int moved = 0;
  for (const auto& event : loose) {
    const auto grid = ((event.at.count % 240) + 240 + 120) % 240 - 120;
    moved += grid != 0 ? 1 : 0;
    CHECK(std::abs(duration_of(Ticks{grid}, form.tempo).count()) <= 8'000'000);
  }
  CHECK(moved * 2 > static_cast<int>(loose.size()));
}

TEST_CASE("the count-in ends at the top and suits the feel") {
  for (const auto& name : shipped().names())
    for (const auto& form : band::testing::forms(name)) {
      CAPTURE(name);
      const Ticks bar = song::bar_length(form.bars.front().meter);
      for (int bars = 1; bars <= 2; ++bars) {
        const auto clicks = plan_count_in(form, bars, shipped());
        REQUIRE_FALSE(clicks.empty());
        CHECK(clicks.front().at == bar * -bars);
        for (const auto& click : clicks) {
          CHECK(click.part == Part::click);
          CHECK(click.at < Ticks{0});
          CHECK(click.length > Ticks{0});
        }
      }
    }
  const auto form = form_of("A", "A", "swing");
  CHECK(plan_count_in(form, 0, shipped()).empty());
  CHECK_FALSE(plan_count_in(form, 1, band::testing::Book{}).empty());
}

TEST_CASE("the count-in keeps the beat through a pick-up of another length") {
  auto form = form_of("A | D", "A", "straight-eighths");
  song::Bar pickup = form.bars.front();
  pickup.meter = {2, 4};
  pickup.start = Ticks{0} - song::bar_length(pickup.meter);
  form.pickup = {pickup};
  const auto clicks = plan_count_in(form, 2, shipped());
  REQUIRE_FALSE(clicks.empty());
  CHECK(clicks.front().at == Ticks{0} - quarter * 6);
}
