#include "ear/players.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::test;

namespace {

constexpr unsigned seeds = 20;

const Stage triads{.chart = "A | D | E | F#m | D | A | Bm | E", .bars = 96};
const theory::Key in_a = theory::parse_key("A").value();

/// Landed of what was played: the least and the most of all seeds, and the mean.
struct Rates {
  double least = 1.0, most = 0.0, mean = 0.0;
};

template <typename Player> Rates rates_of(const ear::Ground& ground, Player player) {
  Rates rates;
  for (unsigned seed = 1; seed <= seeds; ++seed) {
    const auto judgement = ear::judge(ground, heard(player(seed)), {});
    const double rate = judgement.summary.landing_rate().value();
    rates.least = std::min(rates.least, rate);
    rates.most = std::max(rates.most, rate);
    rates.mean += rate / seeds;
  }
  return rates;
}

} // namespace

TEST_CASE("aimless eighths and sixteenths land at about chance: 20 seeds") {
  const auto ground = ground_of(triads);
  const double chance = 3.0 / 7.0;
  for (const auto step : {eighth, sixteenth}) {
    const auto rates =
        rates_of(ground, [&](unsigned seed) { return aimless(ground, in_a, step, seed); });
    MESSAGE(std::string(step == eighth ? "eighths" : "sixteenths")
            << ": landed " << rates.least << " to " << rates.most << ", mean " << rates.mean
            << ", chance " << chance);
    CHECK(rates.mean > chance - 0.05);
    // A lean is a landing too: the next note, near by, makes up for some of the others.
    CHECK(rates.mean < chance + 0.16);
  }
}

TEST_CASE("one who means it lands every time: 20 seeds, the worst") {
  const auto ground = ground_of(triads);
  const auto rates = rates_of(ground, [&](unsigned seed) { return perfect(ground, in_a, seed); });
  CHECK(rates.least == 1.0);
}

TEST_CASE("all that is judged adds up") {
  const auto ground = ground_of(triads);
  for (unsigned seed = 1; seed <= seeds; ++seed) {
    const auto judgement = ear::judge(ground, heard(wild(Ticks{3840 * 96}, seed)), {});
    const auto& sum = judgement.summary;
    CHECK(sum.changes == static_cast<int>(ground.changes.size()));
    CHECK(sum.landed + sum.late + sum.off + sum.rest == sum.changes);
    int landed = 0, late = 0;
    for (const auto& [number, count] : sum.by_degree) {
      landed += count.landed;
      late += count.late;
    }
    CHECK(landed == sum.landed);
    CHECK(late == sum.late);
    for (const auto& change : judgement.changes) {
      const bool met =
          change.verdict == ear::Verdict::landed || change.verdict == ear::Verdict::late;
      CHECK(change.degree.has_value() == met);
      CHECK(change.approach.has_value() == met);
      CHECK(change.midi.has_value() == (change.verdict != ear::Verdict::rest));
      CHECK(change.held.has_value() == (change.verdict == ear::Verdict::off));
    }
  }
}
