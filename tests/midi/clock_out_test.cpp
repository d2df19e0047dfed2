#include "midi/sender_rig.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::midi;
using namespace landfall::midi::test;

namespace {

struct ClockRig : Rig {
  ClockRig() { links.clock = true; }
};

std::size_t count(const Lines& lines, const std::string& word) {
  return static_cast<std::size_t>(std::count_if(
      lines.begin(), lines.end(), [&](const auto& line) { return line.ends_with(" " + word); }));
}

} // namespace

TEST_CASE("clock runs through the count-in, and start goes right before the clock of bar 1") {
  ClockRig rig;
  rig.start({-100});
  rig.run_to(Ticks{79});
  CHECK(rig.log() == Lines{"-80 clock", "-40 clock", "0 start", "0 clock", "40 clock"});
}

TEST_CASE(
    "there are 24 clocks to the quarter, each at its exact time, before what the plan holds") {
  ClockRig rig;
  rig.submit(0, 960, {note(0, 960), note(480, 10, 62)});
  rig.start({0}, Tempo{476'191});
  rig.run_to(Ticks{960});
  const auto lines = rig.log();
  CHECK(count(lines, "clock") == 25);
  CHECK(lines[0] == "0 start");
  CHECK(lines[1] == "0 clock");
  CHECK(lines[2] == "0 on 0 60 90");
  CHECK(lines[lines.size() - 2] == "960 clock");
  CHECK(lines.back() == "960 off 0 60");
  CHECK(rig.links.lateness.summary().worst_us == 0);
}

TEST_CASE("a change of tempo moves the clocks that are to come") {
  ClockRig rig;
  auto line = rolling({0}, rig.now, fast).with_tempo({480}, Tempo{500'000});
  rig.transport.publish(line);
  rig.run_to(Ticks{960});
  const auto& sent = rig.output.sent;
  REQUIRE(sent.size() == 26);
  CHECK(sent[2].due - sent[1].due == duration_of({40}, fast));
  CHECK(sent[20].due - sent[19].due == duration_of({40}, Tempo{500'000}));
}

TEST_CASE("without being asked for, nothing is sent; asked for in mid-song, it continues there") {
  ClockRig rig;
  rig.links.clock = false;
  rig.start();
  rig.run_to(Ticks{1000});
  CHECK(rig.log().empty());
  rig.links.clock = true;
  rig.run_to(Ticks{1219});
  CHECK(rig.log() == Lines{"1000 clock", "1040 clock", "1080 clock", "1120 clock", "1160 clock",
                           "1200 position 5", "1200 continue", "1200 clock"});
  rig.links.clock = false;
  rig.step();
  CHECK(rig.log() == Lines{"1219 stop"});
}

TEST_CASE("stop is sent once, and the next performance starts") {
  ClockRig rig;
  rig.start();
  rig.run_to(Ticks{50});
  rig.log();
  rig.stop();
  auto line = rig.transport.read();
  line.rolling = false;
  rig.transport.publish(line);
  rig.step();
  rig.step();
  CHECK(rig.log() == Lines{"50 stop"});
  rig.start({-40});
  rig.run_to(Ticks{0});
  CHECK(rig.log() == Lines{"-40 clock", "0 start", "0 clock"});
}

TEST_CASE("a performance that goes on elsewhere is found by song position and continue") {
  ClockRig rig;
  rig.start();
  rig.run_to(Ticks{50});
  rig.log();
  rig.start({7680});
  rig.run_to(Ticks{7700});
  CHECK(rig.log() == Lines{"7680 stop", "7680 position 32", "7680 continue", "7680 clock"});
  rig.start({-960 + 20});
  rig.run_to(Ticks{-900});
  CHECK(rig.log() == Lines{"-940 stop", "-920 clock"});
}

TEST_CASE("the place that a transport waits for counts, not the one it would be at now") {
  ClockRig rig;
  rig.transport.publish(rolling({960}, rig.now + std::chrono::milliseconds(60), fast));
  rig.run_to(Ticks{970});
  CHECK(rig.log() == Lines{"960 position 4", "960 continue", "960 clock"});
}

TEST_CASE("a late wake-up catches up clock by clock; after a suspension it goes on elsewhere") {
  ClockRig rig;
  rig.start();
  rig.step();
  rig.now += duration_of({400}, fast);
  rig.step();
  CHECK(count(rig.log(), "clock") == 11);
  rig.now += duration_of(quarter * 20 + Ticks{12}, fast);
  rig.step();
  const auto lines = rig.log();
  CHECK(count(lines, "clock") == 0);
  CHECK(count(lines, "stop") == 1);
}

TEST_CASE("positions start anew after 1024 bars") {
  ClockRig rig;
  rig.start({song_position_step * song_positions + quarter});
  rig.step();
  CHECK(rig.log().front().ends_with("position 4"));
}

TEST_CASE("the end of the sender stops the clock") {
  ClockRig rig;
  rig.start();
  rig.run_to(Ticks{10});
  rig.log();
  rig.core.finish(rig.now);
  CHECK(rig.log() == Lines{"10 stop"});
}
