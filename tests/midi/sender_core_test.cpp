#include "midi/fake_output.hpp"
#include "midi/sender_core.hpp"

#include <doctest/doctest.h>

#include <memory>
#include <random>
#include <string>
#include <vector>

using namespace landfall;
using namespace landfall::midi;
using landfall::midi::test::FakeOutput;
using landfall::midi::test::hanging;
using landfall::midi::test::text;

namespace doctest {
template <> struct StringMaker<std::vector<std::string>> {
  static String convert(const std::vector<std::string>& lines) {
    std::string all;
    for (const auto& line : lines)
      all += line + "; ";
    return all.c_str();
  }
};
} // namespace doctest

namespace {

constexpr Tempo fast{250'000};
const TimePoint origin{Nanoseconds{123'456'789'012'347}};

PlannedMessage note(std::int64_t at, std::int64_t length, int key = 60, int channel = 0) {
  return {{at}, {length}, note_on(channel, key, 90)};
}

/// A sender without its thread, on a clock moved by hand.
struct Rig {
  FakeOutput output;
  SenderLinks links{64};
  Latest<Transport> transport;
  SenderCore core{output, links, transport};
  std::uint64_t performance = 0;
  TimePoint now = origin;
  std::vector<std::unique_ptr<Chunk>> chunks;

  void start(Ticks at = {0}, Tempo tempo = fast) {
    transport.publish(midi::test::rolling(at, now, tempo));
  }

  void submit(std::int64_t from, std::int64_t to, std::vector<PlannedMessage> messages) {
    chunks.push_back(std::make_unique<Chunk>(Chunk{{from}, {to}, std::move(messages)}));
    REQUIRE(links.chunks.push({chunks.back().get(), performance}));
  }

  void stop() { links.stopped.publish({++performance, transport.version() + 1}); }

  TimePoint step() { return core.step(now); }

  /// Wakes exactly when the sender asks for it, up to `end`.
  void run_to(TimePoint end) {
    for (auto next = step(); next <= end; next = step())
      now = next;
    now = end;
    step();
  }
  void run_to(Ticks end) { run_to(transport.read().time_at(end)); }

  /// "tick message" of everything sent so far; forgets it.
  std::vector<std::string> log() {
    const auto line = transport.read();
    std::vector<std::string> lines;
    for (const auto& [message, due] : output.sent) {
      const Ticks tick = line.tick_at(due);
      CHECK(line.time_at(tick) == due);
      lines.push_back(std::to_string(tick.count) + " " + text(message));
    }
    output.sent.clear();
    return lines;
  }

  std::vector<const Chunk*> retired() {
    std::vector<const Chunk*> list;
    const Chunk* chunk = nullptr;
    while (links.retired.pop(chunk))
      list.push_back(chunk);
    return list;
  }
};

using Lines = std::vector<std::string>;

} // namespace

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

TEST_CASE("a note struck again while it sounds is ended first") {
  Rig rig;
  rig.submit(0, 960, {note(0, 900), note(100, 100)});
  rig.start();
  rig.run_to(Ticks{960});
  CHECK(rig.log() == Lines{"0 on 0 60 90", "100 off 0 60", "100 on 0 60 90", "200 off 0 60"});
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
  lane.channel = 4;
  lane.open = true;
  const auto played = rig.now - std::chrono::milliseconds(1);
  lane.queue.push({played, note_on(0, 60, 90)});
  lane.queue.push({played, control(0, 64, 127)});
  lane.queue.push({played, {{0xF8, 0, 0}, 1}});
  lane.queue.push({played, {{0x90, 60, 0}, 2}});
  rig.step();
  REQUIRE(rig.output.sent.size() == 2);
  CHECK(rig.output.sent[0] == midi::test::Sent{note_on(4, 60, 90), played});
  SUBCASE("closed") {
    lane.open = false;
  }
  SUBCASE("moved to another channel") {
    lane.channel = 5;
  }
  rig.step();
  CHECK(hanging(rig.output.sent).empty());
  CHECK(rig.output.sent.back().message == control(4, 64, 0));
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

TEST_CASE("a sender that comes in the middle joins at the present tick") {
  Rig rig;
  rig.start();
  rig.now = rig.transport.read().time_at({10'000});
  rig.submit(9600, 11'520, {{{9600}, {0}, program(0, 4)}, note(9600, 1000), note(10'560, 10, 61)});
  rig.run_to(Ticks{11'520});
  CHECK(rig.log() == Lines{"9600 program 0 4", "10560 on 0 61 90", "10570 off 0 61"});
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
