#include "song/performance.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::song;

namespace {

/// Bars of 4/4, 3/4, 5/4 over and over.
std::shared_ptr<const Form> mixed_form(int bars) {
  auto form = std::make_shared<Form>();
  const Meter meters[] = {{4, 4}, {3, 4}, {5, 4}};
  for (int i = 0; i < bars; ++i) {
    Bar bar;
    bar.number = i + 1;
    bar.meter = meters[i % 3];
    bar.start = form->length;
    bar.chords = {{{}, std::nullopt, true}};
    form->bars.push_back(bar);
    form->length += bar_length(bar.meter);
  }
  return form;
}

} // namespace

TEST_CASE("stretches follow each other without gap and every tick is found again") {
  const auto form = mixed_form(5);
  Performance performance;
  for (int chorus = 0; chorus < 4; ++chorus)
    performance.append(chorus, form, {}, form->length);
  CHECK(performance.end() == form->length * 4);
  for (Ticks tick; tick < performance.end(); tick += {77}) {
    const auto moment = performance.at(tick);
    REQUIRE(moment);
    CHECK(moment->stretch->chorus == floor_div(tick, form->length));
    CHECK(moment->form_tick == floor_mod(tick, form->length));
    CHECK(moment->bar_start() + moment->in_bar == tick);
  }
  CHECK_FALSE(performance.at({-1}));
  CHECK_FALSE(performance.at(performance.end()));
}

TEST_CASE("a loop of two bars comes round exactly") {
  const auto form = mixed_form(6);
  Performance performance;
  const auto from = form->bars[1].start, to = form->bars[3].start;
  for (int i = 0; i < 3; ++i)
    performance.append(i, form, from, to);
  CHECK(performance.at({0})->bar->number == 2);
  CHECK(performance.at(to - from)->bar->number == 2);
  CHECK(performance.at(to - from - Ticks{1})->bar->number == 3);
}

TEST_CASE("bar lines and beats are found from any tick") {
  const auto form = mixed_form(3);
  Performance performance;
  performance.append(0, form, {}, form->length);
  CHECK(performance.bar_line_from({0}) == Ticks{0});
  CHECK(performance.bar_line_from({1}) == Ticks{3840});
  CHECK(performance.bar_line_from({3841}) == Ticks{3840 + 2880});
  CHECK(performance.bar_line_from({3840 + 2881}) == performance.end());
  CHECK(performance.bar_line_from({-500}) == Ticks{0});
  CHECK(performance.beat_from({961}) == Ticks{1920});
  CHECK(performance.beat_from({3840 + 1921}) == Ticks{3840 + 2880});
}

TEST_CASE("cutting forgets the future and leaves the past") {
  const auto form = mixed_form(3);
  Performance performance;
  performance.append(0, form, {}, form->length);
  performance.append(1, form, {}, form->length);
  performance.cut({3840});
  CHECK(performance.end() == Ticks{3840});
  REQUIRE(performance.at({3839}));
  CHECK_FALSE(performance.at({3840}));
  performance.append(0, form, {3840}, form->length);
  CHECK(performance.at({3840})->bar->number == 2);
  performance.cut({0});
  CHECK(performance.empty());
  CHECK(performance.end() == Ticks{0});
}

TEST_CASE("forgetting the past leaves the rest in its place") {
  const auto form = mixed_form(3);
  Performance performance;
  for (int chorus = 0; chorus < 100; ++chorus)
    performance.append(chorus, form, {}, form->length);
  performance.forget_before(form->length * 98);
  CHECK(performance.stretches().size() == 2);
  CHECK(performance.at(form->length * 98)->stretch->chorus == 98);
  CHECK(performance.end() == form->length * 100);
}
