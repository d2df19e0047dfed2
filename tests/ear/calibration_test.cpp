#include "ear/calibration.hpp"

#include <doctest/doctest.h>

#include <random>
#include <vector>

using namespace landfall;
using namespace landfall::ear;

namespace {

constexpr Nanoseconds interval{600'000'000};

Nanoseconds ms(double value) {
  return Nanoseconds{std::llround(value * 1e6)};
}

std::vector<Tap> taps(const std::vector<double>& offsets_ms, std::optional<int> string = {}) {
  std::vector<Tap> result;
  for (std::size_t click = 0; click < offsets_ms.size(); ++click)
    result.push_back({interval * static_cast<int>(click) + ms(offsets_ms[click]), string});
  return result;
}

} // namespace

TEST_CASE("the median is the offset, whatever one stray tap does") {
  const auto even = calibrate(taps({20, 20, 20, 20, 20, 20, 20, 20}), interval);
  REQUIRE(even);
  CHECK(even->offset == ms(20));
  CHECK(even->spread == ms(0));
  CHECK(even->taps == 8);
  const auto stray = calibrate(taps({20, 21, 19, 20, 180, 20, 22, 18}), interval);
  REQUIRE(stray);
  CHECK(stray->offset == ms(20));
  const auto ahead = calibrate(taps({-12, -10, -14, -12, -11, -13, -12, -12}), interval);
  REQUIRE(ahead);
  CHECK(ahead->offset == ms(-12));
  CHECK(calibration_words(*ahead) == "12 ms early, within 1 ms");
}

TEST_CASE("a shift of all taps shifts the offset and nothing else") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> jitter(-10.0, 10.0), shift(-50.0, 150.0);
  for (int i = 0; i < 200; ++i) {
    std::vector<double> offsets(8), moved(8);
    const double by = std::round(shift(random));
    for (std::size_t k = 0; k < 8; ++k) {
      offsets[k] = std::round(jitter(random));
      moved[k] = offsets[k] + by;
    }
    const auto first = calibrate(taps(offsets), interval),
               second = calibrate(taps(moved), interval);
    REQUIRE(first);
    REQUIRE(second);
    CHECK(second->offset - first->offset == ms(by));
    CHECK(second->spread == first->spread);
  }
}

TEST_CASE("a modelled player's latency is found within a few milliseconds: 20 seeds, the worst") {
  Nanoseconds worst{};
  for (unsigned seed = 1; seed <= 20; ++seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> played(35.0, 8.0);
    std::vector<double> offsets(8);
    for (auto& offset : offsets)
      offset = played(random);
    const auto found = calibrate(taps(offsets), interval);
    REQUIRE(found);
    worst = std::max(worst, std::max(found->offset - ms(35), ms(35) - found->offset));
  }
  MESSAGE("worst of 20: " << worst.count() / 1000 << " us off");
  CHECK(worst < ms(10));
}

TEST_CASE("a string that tracks later is told apart") {
  auto all = taps({20, 20, 20, 20, 20}, 1);
  for (int click = 5; click < 8; ++click)
    all.push_back({interval * click + ms(32), 6});
  const auto found = calibrate(all, interval);
  REQUIRE(found);
  CHECK(found->strings.at(1) == ms(0));
  CHECK(found->strings.at(6) == ms(12));
  CHECK(calibration_words(*found) == "20 ms late, within 1 ms; string 6 another 12 ms");
  all.pop_back();
  CHECK(calibrate(all, interval)->strings.count(6) == 0);
}

TEST_CASE("a chord on a click is one tap") {
  auto all = taps({20, 20, 20, 20, 20, 20, 20, 20});
  const auto again = taps({25, 25, 25, 25, 25, 25, 25, 25});
  all.insert(all.end(), again.begin(), again.end());
  CHECK(calibrate(all, interval)->offset == ms(20));
}

TEST_CASE("a bad attempt is rejected with its reason") {
  const auto why = [](const std::vector<Tap>& all) {
    const auto result = calibrate(all, interval);
    return result ? std::string() : result.error();
  };
  CHECK(why({}) == "no note came in");
  CHECK(why(taps({20, 20, 20, 20})) == "only 4 of the 8 clicks had a note: play one on each");
  CHECK(why(taps({20, 20, 20, 20, 20, 20})).empty());
  CHECK(why(taps({-60, 60, -50, 80, -70, 90, 10, -20})) ==
        "the notes lay 60 ms apart from each other: try again, evenly");
  CHECK(why(taps({300, 300, 300, 300, 300, 300, 300, 300})) ==
        "300 ms after the clicks is too far: play with them");
  CHECK(why(taps({-120, -120, -120, -120, -120, -120, -120, -120})) ==
        "120 ms before the clicks is too far: play with them");
  auto crowded = taps({10, 10, 10, 10, 10, 10, 10, 10});
  for (int click = 0; click < 3; ++click)
    crowded.push_back({interval * click + interval / 2, std::nullopt});
  CHECK(why(crowded) == "there were notes between the clicks: play one short note on each");
}
