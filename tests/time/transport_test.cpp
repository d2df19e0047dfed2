#include "time/transport.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace landfall;

namespace {

constexpr TimePoint odd_now{Nanoseconds{3'141'592'653'589'793}};

Transport rolling_at(Tempo tempo) {
  return {true, {-3840}, odd_now, tempo, false, {}, {}};
}

} // namespace

TEST_CASE("tick to time to tick is the identity at every tempo") {
  std::mt19937_64 random(1);
  for (int i = 0; i < 20'000; ++i) {
    const Tempo tempo{150'000 + static_cast<std::int64_t>(random() % 2'850'000)};
    const auto transport = rolling_at(tempo);
    const Ticks tick{static_cast<std::int64_t>(random() % 200'000'000) - 10'000};
    CHECK(transport.tick_at(transport.time_at(tick)) == tick);
  }
}

TEST_CASE("a tempo change keeps every earlier tick in its place and joins without a gap") {
  const auto before = rolling_at(tempo_from_bpm(84));
  const auto after = before.with_tempo({9600}, tempo_from_bpm(173));
  for (std::int64_t tick = -3840; tick <= 9600; tick += 7)
    CHECK(after.time_at({tick}) == before.time_at({tick}));
  const auto later = after.settled({9600});
  for (std::int64_t tick = 9600; tick < 30'000; tick += 7) {
    CHECK(later.time_at({tick}) == after.time_at({tick}));
    CHECK(after.tick_at(after.time_at({tick})) == Ticks{tick});
  }
  CHECK(after.tempo_at({9599}) == before.tempo);
  CHECK(after.tempo_at({9600}) == tempo_from_bpm(173));
}

TEST_CASE("a tempo change that is told again before its time moves nothing") {
  const auto once = rolling_at(tempo_from_bpm(84)).with_tempo({9600}, tempo_from_bpm(173));
  CHECK(once.settled({5000}).with_tempo({9600}, tempo_from_bpm(173)) == once);
  const auto other = once.with_tempo({9600}, tempo_from_bpm(60));
  for (std::int64_t tick = -3840; tick <= 9600; tick += 7)
    CHECK(other.time_at({tick}) == once.time_at({tick}));
  CHECK(other.tempo_at({9600}) == tempo_from_bpm(60));
}

TEST_CASE("ten hours of tempo changes drift by less than a microsecond") {
  auto transport = rolling_at(tempo_from_bpm(120));
  std::mt19937_64 random(2);
  long double exact = static_cast<long double>(odd_now.time_since_epoch().count());
  Ticks last = transport.anchor_tick;
  auto tempo = transport.tempo;
  for (Ticks at{0}; at < Ticks{36'000LL * 1920}; at += {960 * 37}) {
    exact += static_cast<long double>((at - last).count) * tempo.micros_per_quarter * 25 / 24;
    last = at;
    tempo = Tempo{150'000 + static_cast<std::int64_t>(random() % 1'000'000)};
    transport = transport.with_tempo(at, tempo);
    const auto there = static_cast<long double>(transport.time_at(at).time_since_epoch().count());
    REQUIRE(std::abs(static_cast<double>(there - exact)) < 1000.0);
  }
}

TEST_CASE("beats a minute and microseconds a quarter agree, and are clamped") {
  CHECK(tempo_from_bpm(120).micros_per_quarter == 500'000);
  CHECK(bpm(Tempo{500'000}) == doctest::Approx(120));
  CHECK(tempo_from_bpm(0).micros_per_quarter == 3'000'000);
  CHECK(tempo_from_bpm(1e9).micros_per_quarter == 150'000);
}

TEST_CASE("division of ticks rounds down on both sides of zero") {
  CHECK(floor_div({-1}, {960}) == -1);
  CHECK(floor_div({-960}, {960}) == -1);
  CHECK(floor_div({959}, {960}) == 0);
  CHECK(floor_mod({-1}, {960}) == Ticks{959});
}
