#include "app/rig_page.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::app;

namespace {

TimePoint at(std::int64_t milliseconds) {
  return TimePoint{std::chrono::milliseconds(milliseconds)};
}

std::string value(const render::RigPage& page, const std::string& name) {
  const auto found = std::find_if(page.facts.begin(), page.facts.end(),
                                  [&](const auto& fact) { return fact.name == name; });
  return found == page.facts.end() ? "(not there)" : found->value;
}

} // namespace

TEST_CASE("times are said in milliseconds, with the digits that matter") {
  CHECK(milliseconds_words(0) == "0");
  CHECK(milliseconds_words(47) == "0.05");
  CHECK(milliseconds_words(98) == "0.1");
  CHECK(milliseconds_words(1000) == "1");
  CHECK(milliseconds_words(4240) == "4.2");
  CHECK(milliseconds_words(23'400) == "23");
  CHECK(milliseconds_words(120'000) == "120");
}

TEST_CASE("the page says what was sent, how late, and what was lost") {
  RigReading reading;
  reading.sent.lateness = {12'345, 31, 140, 9200};
  reading.sent.histogram[2] = 12'000;
  reading.sent.histogram[9] = 345;
  reading.sent.drops = 2;
  const auto page = rig_page(reading);
  CHECK(value(page, "Sent") == "12,345 messages");
  CHECK(value(page, "Late: median, 99 %, worst") == "0.03, 0.1, 9.2 ms");
  CHECK(value(page, "Lost or too late") == "2");
  CHECK(value(page, "Gaps in the synth's sound") == "(not there)");
  REQUIRE(page.charts.size() == 2);
  REQUIRE(page.charts[0].columns.size() == midi::histogram_ends_us.size() + 1);
  CHECK(page.charts[0].columns[2].share == 1.0);
  CHECK(page.charts[0].columns[2].name == "0.05");
  CHECK(page.charts[0].columns[2].words == "12,000");
  CHECK(page.charts[0].columns[0].words.empty());
  CHECK(page.charts[0].columns.back().name == "more");
}

TEST_CASE("what has not happened yet is said as such") {
  const auto page = rig_page({});
  CHECK(value(page, "Late: median, 99 %, worst") == "nothing yet");
  CHECK(value(page, "Lost or too late") == "none");
  CHECK(value(page, "Comes in") == "nothing yet");
  CHECK(value(page, "Pictures") == "none yet");
  CHECK(value(page, "MIDI clock") == "neither sent nor followed");
}

TEST_CASE("a clock that is followed says its tempo once it is steady") {
  RigReading reading;
  reading.follows_clock = reading.sends_clock = true;
  CHECK(value(rig_page(reading), "MIDI clock") == "sent; followed, none comes");
  reading.clock.clocks = true;
  reading.clock.line.tempo = tempo_from_bpm(117);
  CHECK(value(rig_page(reading), "MIDI clock") == "sent; followed, 117.0 bpm, not steady yet");
  reading.clock.locked = true;
  CHECK(value(rig_page(reading), "MIDI clock") == "sent; followed, 117.0 bpm");
}

TEST_CASE("messages are counted by whole seconds") {
  InputRate rate;
  for (int i = 0; i < 30; ++i)
    rate.count(at(10'000 + i * 20));
  CHECK(rate.reading(at(10'900)).now == 0);
  CHECK(rate.reading(at(11'000)) == InputRate::Reading{30, 30, 30});
  rate.count(at(11'500));
  CHECK(rate.reading(at(12'100)) == InputRate::Reading{1, 30, 31});
  CHECK(rate.reading(at(14'000)) == InputRate::Reading{0, 30, 31});
}
