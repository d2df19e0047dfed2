#include "midi/sender_rig.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using namespace landfall;
using namespace landfall::midi;
using namespace landfall::midi::test;

TEST_CASE("a plan is sent at its ticks, note-offs before note-ons") {
  Rig rig;
  rig.submit(0, 1920,
             {{{0}, {0}, program(0, 33)}, note(0, 480), note(480, 480), note(960, 10, 62)});
  rig.start();
  rig.run_to(Ticks{1920});
  CHECK(rig.log() == Lines{"0 program 0 33", "0 on 0 60 90", "480 off 0 60", "480 on 0 60 90",
                           "960 off 0 60", "960 on 0 62 90", "970 off 0 62"});
  CHECK(rig.retired().size() == 1);
  CHECK(rig.links.lateness.summary().worst_us == 0);
  CHECK(rig.links.lateness.summary().events == 7);
}

TEST_CASE("nothing is sent before its time, and the next deadline is exact") {
  Rig rig;
  rig.submit(-960, 0, {note(-7, 5)});
  CHECK(rig.step() == SenderCore::never);
  rig.start({-960});
  const auto due = rig.transport.read().time_at({-7});
  CHECK(rig.step() == due);
  CHECK(rig.core.step(due - Nanoseconds{1}) == due);
  CHECK(rig.output.sent.empty());
  CHECK(rig.core.step(due) == rig.transport.read().time_at({-2}));
  CHECK(rig.output.sent.size() == 1);
}

TEST_CASE("chorus after chorus without a seam, for ten hours") {
  Rig rig;
  const Tempo odd{476'191};
  constexpr std::int64_t bars = 4 * 960;
  rig.start({0}, odd);
  const auto begin = rig.now;
  std::int64_t chorus = 0;
  for (; rig.now < begin + std::chrono::hours(10); ++chorus) {
    const auto top = chorus * bars;
    rig.submit(top, top + bars, {note(top, 240), note(top + bars - 1, 1, 61)});
    rig.run_to(Ticks{top + bars - 1});
    rig.retired();
  }
  rig.run_to(Ticks{chorus * bars});
  std::int64_t top = 0;
  const auto exact = rig.transport.read();
  std::size_t wrong = 0;
  for (std::size_t i = 0; i < rig.output.sent.size(); i += 4, top += bars) {
    const Ticks ticks[]{{top}, {top + 240}, {top + bars - 1}, {top + bars}};
    for (std::size_t k = 0; k < 4; ++k)
      wrong += rig.output.sent[i + k].due == exact.time_at(ticks[k]) ? 0U : 1U;
  }
  CHECK(rig.output.sent.size() == static_cast<std::size_t>(chorus) * 4);
  CHECK(wrong == 0);
  CHECK(hanging(rig.output.sent).empty());
}

TEST_CASE("the next chorus may begin before its first bar") {
  Rig rig;
  rig.submit(0, 960, {note(0, 960), note(900, 60, 64)});
  rig.submit(960, 1920, {note(840, 60, 67), note(960, 960)});
  rig.start();
  rig.run_to(Ticks{1920});
  CHECK(rig.log() == Lines{"0 on 0 60 90", "840 on 0 67 90", "900 off 0 67", "900 on 0 64 90",
                           "960 off 0 60", "960 off 0 64", "960 on 0 60 90", "1920 off 0 60"});
}

TEST_CASE("a new tempo moves what is not yet sent, sounding notes' ends too") {
  Rig rig;
  rig.submit(0, 3840, {note(0, 1920), note(1440, 10, 62)});
  rig.start();
  rig.run_to(Ticks{500});
  rig.transport.publish(rig.transport.read().with_tempo({960}, Tempo{1'000'000}));
  rig.run_to(Ticks{3840});
  CHECK(rig.log() == Lines{"0 on 0 60 90", "1440 on 0 62 90", "1450 off 0 62", "1920 off 0 60"});
  CHECK(rig.transport.read().time_at({1920}) == origin + std::chrono::milliseconds(1250));
}

TEST_CASE("a plan replaced in mid-note: the note keeps its end, the rest is the new plan's") {
  Rig rig;
  rig.submit(0, 3840, {note(0, 1500), note(1000, 100, 61), note(1920, 100, 62), note(2880, 9, 63)});
  rig.start();
  rig.run_to(Ticks{960});
  rig.submit(1920, 3840, {note(1800, 60, 71), note(1920, 100, 72)});
  rig.run_to(Ticks{3840});
  CHECK(rig.log() == Lines{"0 on 0 60 90", "1000 on 0 61 90", "1100 off 0 61", "1500 off 0 60",
                           "1800 on 0 71 90", "1860 off 0 71", "1920 on 0 72 90", "2020 off 0 72"});
  CHECK(rig.retired().size() == 2);
}

TEST_CASE("a plan replaced from where it began goes as a whole, anticipations included") {
  Rig rig;
  rig.submit(0, 960, {note(0, 10)});
  rig.submit(960, 1920, {note(900, 10, 61), note(960, 10, 62)});
  rig.submit(960, 1920, {note(900, 10, 71), note(960, 10, 72)});
  rig.start();
  rig.run_to(Ticks{1920});
  CHECK(rig.log() == Lines{"0 on 0 60 90", "10 off 0 60", "900 on 0 71 90", "910 off 0 71",
                           "960 on 0 72 90", "970 off 0 72"});
}

TEST_CASE("a replacement that comes late does not play again what has sounded") {
  Rig rig;
  rig.submit(0, 1920, {note(0, 10), note(960, 10)});
  rig.start();
  rig.run_to(Ticks{960});
  rig.submit(0, 1920, {note(0, 10, 70), note(960, 10, 70), note(961, 10, 71)});
  rig.run_to(Ticks{1920});
  CHECK(rig.log() == Lines{"0 on 0 60 90", "10 off 0 60", "960 on 0 60 90", "961 on 0 71 90",
                           "970 off 0 60", "971 off 0 71"});
}

TEST_CASE("a replacement that comes just before a tick still plays it") {
  Rig rig;
  rig.submit(0, 1920, {note(0, 10)});
  rig.start();
  rig.run_to(rig.transport.read().time_at({960}) - Nanoseconds{1});
  rig.submit(0, 1920, {note(960, 10, 61)});
  rig.run_to(Ticks{1920});
  CHECK(rig.log() == Lines{"0 on 0 60 90", "10 off 0 60", "960 on 0 61 90", "970 off 0 61"});
}

TEST_CASE("a plan that comes a little late is still played, much too late it is skipped") {
  Rig rig;
  rig.submit(0, 960, {note(0, 10)});
  rig.start();
  rig.run_to(Ticks{960});
  rig.now += std::chrono::milliseconds(20);
  rig.submit(960, 1920, {{{960}, {0}, control(0, 7, 99)}, note(960, 400, 61)});
  rig.run_to(Ticks{1920});
  rig.now += std::chrono::seconds(3);
  rig.submit(1920, 3840,
             {{{1920}, {0}, control(0, 7, 98)}, note(1920, 400, 62), note(1930, 4, 63)});
  rig.step();
  CHECK(rig.log() == Lines{"0 on 0 60 90", "10 off 0 60", "960 cc 0 7 99", "960 on 0 61 90",
                           "1360 off 0 61", "1920 cc 0 7 98"});
  CHECK(rig.links.skipped == 2);
}

TEST_CASE("a note struck again while it sounds is ended first") {
  Rig rig;
  rig.submit(0, 960, {note(0, 900), note(100, 100)});
  rig.start();
  rig.run_to(Ticks{960});
  CHECK(rig.log() == Lines{"0 on 0 60 90", "100 off 0 60", "100 on 0 60 90", "200 off 0 60"});
}

TEST_CASE("a sender that comes in the middle joins at the present tick") {
  Rig rig;
  rig.start();
  rig.now = rig.transport.read().time_at({10'000});
  rig.submit(9600, 11'520, {{{9600}, {0}, program(0, 4)}, note(9600, 1000), note(10'560, 10, 61)});
  rig.run_to(Ticks{11'520});
  CHECK(rig.log() == Lines{"9600 program 0 4", "10560 on 0 61 90", "10570 off 0 61"});
  CHECK(rig.links.lateness.summary().events == 2); // the sound is not late, it stands already
}

TEST_CASE("random plans, replacements, mutes, tempos and stops: nothing hangs, nothing is lost") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto below = [&random](unsigned n) { return static_cast<int>(random() % n); };
    Rig rig;
    rig.start();
    for (int turn = 0; turn < 300; ++turn) {
      const auto line = rig.transport.read();
      const Ticks here = line.tick_at(rig.now);
      std::vector<PlannedMessage> messages;
      const auto from = here.count + below(2000) - 200;
      for (auto at = from - below(200); at < from + 3000; at += below(300))
        messages.push_back(note(at, 1 + below(900), 40 + below(20), below(3)));
      rig.submit(from, from + 3000, messages);
      if (below(3) == 0)
        rig.links.muted = static_cast<std::uint16_t>(below(8));
      if (below(3) == 0 && line.rolling)
        rig.transport.publish(line.settled(here).with_tempo(
            std::max(here, line.settled(here).anchor_tick), Tempo{200'000 + below(400'000)}));
      if (below(10) == 0) {
        rig.stop();
        rig.step();
        REQUIRE(hanging(rig.output.sent).empty());
        rig.start();
      }
      rig.run_to(rig.now + std::chrono::milliseconds(below(1000)));
      rig.retired();
    }
    rig.core.finish(rig.now);
    CHECK(hanging(rig.output.sent).empty());
    CHECK(rig.links.retired.drops() == 0);
    CHECK(rig.output.sent.size() > 1000);
  }
}
