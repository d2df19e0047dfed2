#include "midi/clock_follower.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>

using namespace landfall;
using namespace landfall::midi;

namespace {

const TimePoint origin{Nanoseconds{987'654'321'012}};

TimePoint at(double seconds) {
  return origin + std::chrono::duration_cast<Nanoseconds>(std::chrono::duration<double>(seconds));
}

/// A sender of clock whose true line is known.
struct Master {
  ClockFollower follower;
  double period; ///< Seconds a clock.
  double now = 0;
  std::mt19937 random;
  std::function<double()> jitter = [] { return 0.0; };

  explicit Master(double beats_per_minute, unsigned seed = 1)
      : period(60 / beats_per_minute / 24), random(seed) {}

  void say(std::uint8_t status) { follower.hear({{status}, 1}, at(now)); }
  void position(int sixteenths) {
    follower.hear({{song_position_byte, static_cast<std::uint8_t>(sixteenths & 0x7F),
                    static_cast<std::uint8_t>(sixteenths >> 7)},
                   3},
                  at(now));
  }
  void clock(bool lost = false) {
    if (!lost)
      follower.hear({{clock_byte}, 1}, at(now + jitter()));
    now += period;
  }
  void clocks(int count) {
    for (int i = 0; i < count; ++i)
      clock();
  }
  double beats_per_minute() const { return bpm(follower.reading().line.tempo); }
  /// Where the line has the clock that comes next, less where it will come, in milliseconds.
  double error_ms(Ticks next) const {
    const auto line = follower.reading().line.time_at(next);
    return std::chrono::duration<double, std::milli>(line - at(now)).count();
  }
};

void jitter_by(Master& master, double seconds) {
  master.jitter = [&master, seconds] {
    return std::uniform_real_distribution<double>(-seconds, seconds)(master.random);
  };
}

} // namespace

TEST_CASE("a steady clock gives its tempo and its place, locked after a beat") {
  Master master(137);
  master.say(start_byte);
  CHECK_FALSE(master.follower.reading().running);
  master.clocks(1);
  CHECK(master.follower.reading().running);
  CHECK(master.follower.reading().starts == 1);
  CHECK_FALSE(master.follower.reading().locked);
  master.clocks(23);
  CHECK(master.follower.reading().locked);
  CHECK(master.beats_per_minute() == doctest::Approx(137).epsilon(1e-5));
  CHECK(std::abs(master.error_ms(quarter)) < 0.01);
}

TEST_CASE(
    "2 ms of jitter: locked within two beats, and neither tempo nor place wobble to be heard") {
  for (const double tempo : {40.0, 84.0, 120.0, 180.0, 300.0})
    for (unsigned seed = 1; seed <= 20; ++seed) {
      CAPTURE(tempo);
      CAPTURE(seed);
      Master master(tempo, seed);
      jitter_by(master, 0.002);
      master.say(start_byte);
      master.clocks(48);
      CHECK(master.follower.reading().locked);
      double worst_tempo = 0, worst_ms = 0;
      for (int i = 48; i < 48 + 24 * 64; ++i) {
        if (i >= 96) { // a bar
          worst_tempo = std::max(worst_tempo, std::abs(master.beats_per_minute() / tempo - 1));
          worst_ms = std::max(worst_ms, std::abs(master.error_ms(clock_step * i)));
        }
        master.clock();
      }
      CHECK(worst_tempo < 0.005);
      CHECK(worst_ms < 1.5);
    }
}

TEST_CASE("clocks that are lost or come twice do not shift the place") {
  Master master(110, 7);
  jitter_by(master, 0.001);
  master.say(start_byte);
  master.clocks(60);
  int sent = 60;
  for (int i = 0; i < 2000; ++i, ++sent) {
    const auto draw = master.random() % 20;
    if (draw == 1)
      master.follower.hear({{clock_byte}, 1}, at(master.now + 0.0002));
    master.clock(draw == 0);
  }
  CHECK(std::abs(master.error_ms(clock_step * sent)) < 2);
}

TEST_CASE("after a drop-out of seconds the place is still right") {
  for (const double away : {0.5, 2.0, 8.0}) {
    CAPTURE(away);
    Master master(123, 3);
    jitter_by(master, 0.002);
    master.say(start_byte);
    master.clocks(24 * 8);
    int sent = 24 * 8;
    for (const double back = master.now + away; master.now < back; ++sent)
      master.clock(true);
    master.clocks(48);
    CHECK(std::abs(master.error_ms(clock_step * (sent + 48))) < 2);
    CHECK(master.follower.reading().starts == 1);
    CHECK(master.beats_per_minute() == doctest::Approx(123).epsilon(0.005));
  }
}

TEST_CASE("clocks held up and delivered together are counted once each") {
  Master master(120, 3);
  master.say(start_byte);
  master.clocks(96);
  const double due = master.now;
  for (int i = 0; i < 5; ++i)
    master.follower.hear({{clock_byte}, 1}, at(due + 0.09 + 0.0001 * i));
  master.now = due + 5 * master.period;
  master.clocks(96);
  CHECK(std::abs(master.error_ms(clock_step * (96 + 5 + 96))) < 1);
}

TEST_CASE("another tempo is taken up within a beat, half and double ones too") {
  for (const double factor : {0.5, 0.8, 0.95, 1.02, 1.25, 2.0}) {
    CAPTURE(factor);
    Master master(120, 5);
    jitter_by(master, 0.0005);
    master.say(start_byte);
    master.clocks(24 * 8);
    master.period /= factor;
    master.clocks(36);
    CHECK(master.beats_per_minute() == doctest::Approx(120 * factor).epsilon(0.02));
    CHECK(std::abs(master.error_ms(clock_step * (24 * 8 + 36))) < 5);
    CHECK(master.follower.reading().locked);
  }
}

TEST_CASE("a jump of the tempo loses no clock, however they jitter") {
  for (const double jitter : {0.0, 0.001, 0.002})
    for (const double tempo : {60.0, 100.0, 140.0, 200.0})
      for (const double factor :
           {0.4, 0.5, 0.6, 0.65, 0.7, 0.75, 0.9, 1.1, 1.35, 1.5, 1.6, 2.0, 2.3})
        for (unsigned seed = 1; seed <= 20 && tempo * factor < 290; ++seed) {
          CAPTURE(tempo);
          CAPTURE(factor);
          CAPTURE(seed);
          Master master(tempo, seed);
          jitter_by(master, jitter);
          master.say(start_byte);
          const int before = 24 * 6 + static_cast<int>(seed);
          master.clocks(before);
          master.period /= factor;
          master.clocks(24 * 3);
          CHECK(std::abs(master.error_ms(clock_step * (before + 24 * 3))) < 4);
        }
}

TEST_CASE("a tempo that moves steadily is followed") {
  Master master(90, 5);
  jitter_by(master, 0.001);
  master.say(start_byte);
  for (int i = 0; i < 24 * 40; ++i) {
    master.period = 60.0 / (90 + i * 30.0 / (24 * 40)) / 24;
    master.clock();
  }
  CHECK(master.beats_per_minute() == doctest::Approx(120).epsilon(0.01));
  CHECK(std::abs(master.error_ms(clock_step * (24 * 40))) < 6);
}

TEST_CASE("stop, continue and song position say where it goes on") {
  Master master(100);
  master.say(start_byte);
  master.clocks(30);
  master.say(stop_byte);
  CHECK_FALSE(master.follower.reading().running);
  master.clocks(11); // many senders never cease
  master.say(continue_byte);
  master.clocks(1);
  CHECK(master.follower.reading().running);
  CHECK(master.follower.reading().line.anchor_tick == clock_step * 30);
  CHECK(master.follower.reading().starts == 2);
  master.say(stop_byte);
  master.position(300);
  master.now += 5;
  master.say(continue_byte);
  master.clocks(1);
  CHECK(master.follower.reading().line.anchor_tick == song_position_step * 300);
  master.clocks(10);
  master.position(16);
  master.clocks(1);
  CHECK(master.follower.reading().line.anchor_tick == song_position_step * 16);
  CHECK(master.follower.reading().starts == 4);
}

TEST_CASE("a clock without a start has a tempo, but no place") {
  Master master(77);
  master.clocks(50);
  CHECK(master.follower.reading().locked);
  CHECK_FALSE(master.follower.reading().running);
  CHECK(master.beats_per_minute() == doctest::Approx(77).epsilon(1e-4));
}

TEST_CASE("a start after a pause begins at its own tempo") {
  Master master(60);
  master.say(start_byte);
  master.clocks(200);
  master.say(stop_byte);
  master.now += 3;
  master.period = 60.0 / 150 / 24;
  master.say(start_byte);
  master.clocks(24);
  CHECK(master.beats_per_minute() == doctest::Approx(150).epsilon(1e-4));
  CHECK(std::abs(master.error_ms(quarter)) < 0.1);
}

TEST_CASE("anything else, in any order, does no harm") {
  std::mt19937 random(11);
  ClockFollower follower;
  double now = 0;
  for (int i = 0; i < 200'000; ++i) {
    now += std::exponential_distribution<double>(random() % 2 == 0 ? 50.0 : 5000.0)(random);
    ShortMessage message{
        {static_cast<std::uint8_t>(random() % 3 == 0 ? 0xF0 + random() % 16 : 0xF8),
         static_cast<std::uint8_t>(random()), static_cast<std::uint8_t>(random())},
        static_cast<std::uint8_t>(random() % 4)};
    follower.hear(message, at(now));
    const auto tempo = follower.reading().line.tempo;
    if (follower.reading().tempo_known)
      REQUIRE((tempo >= tempo_from_bpm(max_bpm) && tempo <= tempo_from_bpm(min_bpm)));
  }
}
