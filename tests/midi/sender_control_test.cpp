#include "midi/sender_rig.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::midi;
using namespace landfall::midi::test;

TEST_CASE("stop ends what the plan sounds and forgets the plan; live notes go on") {
  Rig rig;
  rig.submit(0, 3840, {note(0, 3000), note(100, 3000, 64, 9), note(2000, 10)});
  rig.start();
  rig.run_to(Ticks{500});
  rig.links.immediate.push({rig.now, note_on(2, 80, 70)});
  rig.step();
  rig.output.sent.clear();
  rig.stop();
  CHECK(rig.step() == SenderCore::never);
  CHECK(hanging(rig.output.sent).empty());
  CHECK(rig.output.sent.size() == 2);
  CHECK(rig.core.sounding() == 1);
  CHECK(rig.retired().size() == 1);
  rig.now += std::chrono::seconds(9);
  CHECK(rig.step() == SenderCore::never);
  CHECK(rig.output.sent.size() == 2);

  SUBCASE("and a new performance begins again at its own first tick") {
    rig.output.sent.clear();
    rig.submit(-480, 0, {note(-480, 10)});
    rig.step();
    rig.start({-480});
    rig.run_to(Ticks{0});
    CHECK(rig.log() == Lines{"-480 on 0 60 90", "-470 off 0 60"});
  }
  SUBCASE("plans of the old performance that come in late are void") {
    ++rig.performance;
    rig.links.stopped.publish({rig.performance, rig.transport.version() + 1});
    --rig.performance;
    rig.submit(0, 960, {note(0, 10)});
    rig.start();
    rig.output.sent.clear();
    rig.run_to(Ticks{960});
    CHECK(rig.output.sent.empty());
    CHECK(rig.retired().size() == 1);
  }
}

TEST_CASE("a pause ends the plan's notes and keeps the plan") {
  Rig rig;
  rig.submit(0, 3840, {note(0, 3000), note(2000, 10, 61)});
  rig.start();
  rig.run_to(Ticks{960});
  auto paused = rig.transport.read();
  paused.rolling = false;
  rig.transport.publish(paused);
  CHECK(rig.step() == SenderCore::never);
  CHECK(hanging(rig.output.sent).empty());
  rig.output.sent.clear();
  rig.now += std::chrono::seconds(5);
  rig.start({960});
  rig.run_to(Ticks{2010});
  CHECK(rig.log() == Lines{"2000 on 0 61 90", "2010 off 0 61"});
}

TEST_CASE("muting a channel ends its notes and drops its note-ons only") {
  Rig rig;
  rig.submit(0, 3840,
             {note(0, 3000),
              note(0, 3000, 70, 1),
              note(1000, 10),
              note(1000, 10, 71, 1),
              {{1000}, {0}, program(0, 5)},
              note(2000, 10)});
  rig.start();
  rig.run_to(Ticks{500});
  rig.links.muted = 1;
  rig.step();
  CHECK(rig.core.sounding() == 1);
  rig.run_to(Ticks{1500});
  rig.links.muted = 0;
  rig.run_to(Ticks{3840});
  const auto lines = rig.log();
  CHECK(lines == Lines{"0 on 0 60 90", "0 on 1 70 90", "500 off 0 60", "1000 on 1 71 90",
                       "1000 program 0 5", "1010 off 1 71", "2000 on 0 60 90", "2010 off 0 60",
                       "3000 off 1 70"});
}

TEST_CASE("panic ends everything tracked, then silences and centres all channels") {
  Rig rig;
  rig.submit(0, 3840, {note(0, 3000, 50), note(3500, 10, 51)});
  rig.start();
  rig.links.immediate.push({rig.now, note_on(2, 80, 70)});
  rig.run_to(Ticks{100});
  rig.output.sent.clear();
  ++rig.links.panics;
  rig.step();
  REQUIRE(rig.output.sent.size() == 2 + 64);
  CHECK(is_note_off(rig.output.sent[0].message));
  CHECK(is_note_off(rig.output.sent[1].message));
  for (int channel = 0; channel < 16; ++channel) {
    const auto at = 2 + 4 * static_cast<std::size_t>(channel);
    CHECK(rig.output.sent[at].message == control(channel, 64, 0));
    CHECK(rig.output.sent[at + 1].message == control(channel, 123, 0));
    CHECK(rig.output.sent[at + 2].message == control(channel, 120, 0));
    CHECK(rig.output.sent[at + 3].message == bend(channel, 0));
  }
  rig.output.sent.clear();
  rig.step();
  CHECK(rig.output.sent.empty());
  rig.run_to(Ticks{3600});
  CHECK(rig.log() == Lines{"3500 on 0 51 90", "3510 off 0 51"});
}

TEST_CASE("thru: one lane to one channel, silent when closed, nothing left hanging") {
  Rig rig;
  auto& lane = rig.links.thru[1];
  lane.queue.push({rig.now, note_on(0, 60, 90)});
  rig.step();
  CHECK(rig.output.sent.empty());
  lane.map.publish(folded_thru(4));
  lane.open = true;
  const auto played = rig.now - std::chrono::milliseconds(1);
  lane.queue.push({played, note_on(0, 60, 90)});
  lane.queue.push({played, control(0, 64, 127)});
  lane.queue.push({played, {{0xF8, 0, 0}, 1}});
  lane.queue.push({played, {{0x90, 60, 0}, 2}});
  rig.step();
  REQUIRE(rig.output.sent.size() == 2);
  CHECK(rig.output.sent[0] == Sent{note_on(4, 60, 90), played});
  SUBCASE("closed") {
    lane.open = false;
  }
  SUBCASE("moved to another channel") {
    lane.map.publish(folded_thru(5));
  }
  SUBCASE("cut") {
    ++lane.cuts;
  }
  SUBCASE("a message was refused: it may have been an end") {
    for (int i = 0; i < 100; ++i)
      lane.queue.push({played, note_on(0, i, 90)});
    REQUIRE(lane.queue.drops() > 0);
  }
  rig.step();
  CHECK(hanging(rig.output.sent).empty());
  CHECK(rig.output.sent.back().message == control(4, 64, 0));
  const auto count = rig.output.sent.size();
  rig.step();
  CHECK(rig.output.sent.size() == count); // once
}

TEST_CASE("at the end of the thread nothing hangs and every plan comes back") {
  Rig rig;
  rig.submit(0, 3840, {note(0, 3000, 50), note(3500, 10, 51)});
  rig.start();
  rig.links.immediate.push({rig.now, note_on(2, 80, 70)});
  rig.run_to(Ticks{100});
  rig.core.finish(rig.now);
  CHECK(hanging(rig.output.sent).empty());
  CHECK(rig.retired().size() == 1);
}
