#include "trade/call_row.hpp"
#include "trade/calls.hpp"
#include "trade/modelled_player.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::trade;
using namespace landfall::trade::testing;

namespace {

CallPlace place_at(const song::Form& form, int turn) {
  CallPlace place;
  place.form = &form;
  place.bar = 1 + (turn * 4) % static_cast<int>(form.bars.size());
  place.setting = guitar_setting("A", "major pentatonic", theory::Over::chord);
  place.tempo = tempo_from_bpm(96);
  return place;
}

struct Played {
  double early = 0.0;   ///< Mean share of calls 11 to 20.
  double settled = 0.0; ///< Mean share of calls 21 to 60.
  double amount = 0.0;
};

Played play(double skill, std::uint64_t seed) {
  static const auto form = form_of("| A | A | D | D | A | E | D | A |", "A");
  const ModelledPlayer player{skill};
  Chance chance(seed);
  CallRow row(seed);
  Played played;
  for (int call = 1; call <= 60; ++call) {
    const auto place = place_at(form, call);
    const double share = player.answer(row.next(place).phrase, place.tempo, chance);
    row.answered(share);
    if (call > 20)
      played.settled += share / 40.0;
    else if (call > 10)
      played.early += share / 10.0;
  }
  played.amount = row.amount();
  return played;
}

} // namespace

TEST_CASE("calls settle within twenty where a player has 70 to 85 of a hundred notes right") {
  for (const double skill : {3.3, 3.8, 4.3, 4.7}) {
    double low = 1.0, high = 0.0, early_low = 1.0, early_high = 0.0, amount = 0.0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
      const auto played = play(skill, seed);
      low = std::min(low, played.settled);
      high = std::max(high, played.settled);
      early_low = std::min(early_low, played.early);
      early_high = std::max(early_high, played.early);
      amount += played.amount / 20.0;
    }
    MESSAGE("skill ", skill, ": settled ", low, " to ", high, "; calls 11 to 20 ", early_low,
            " to ", early_high, "; amount ", amount);
    CHECK(low >= 0.70);
    CHECK(high <= 0.85);
  }
}

TEST_CASE("a player beyond the densest calls gets those, a beginner the sparsest") {
  CHECK(play(8.0, 1).amount > 0.95);
  CHECK(play(0.5, 1).amount < 0.05);
}

TEST_CASE("a pinned density stays whatever is answered, and moves on from there") {
  Adaptation adaptation;
  adaptation.pin(0.6);
  for (int i = 0; i < 10; ++i)
    adaptation.answered(1.0);
  CHECK(adaptation.amount() == 0.6);
  adaptation.pin(std::nullopt);
  CHECK(adaptation.amount() == 0.6);
  adaptation.answered(0.0);
  CHECK(adaptation.amount() < 0.6);
}

TEST_CASE("no single answer moves the calls by more than a fifth of the way") {
  Adaptation adaptation(0.5);
  double last = 0.5;
  for (const double share : {0.0, 0.0, 1.0, 1.0, 1.0, 1.0, 1.0, 0.0, 0.5, 0.9}) {
    adaptation.answered(share);
    CHECK(std::abs(adaptation.amount() - last) <= 0.2 + 1e-9);
    last = adaptation.amount();
  }
}

TEST_CASE("a missed call comes back as the third call after, then later, until it is answered") {
  const auto form = form_of("| A | A | D | D | A | E | D | A |", "A");
  CallRow row(7);
  row.pin(0.3);
  const auto place = place_at(form, 0);
  const auto missed = row.next(place).phrase;
  row.answered(0.2);
  const auto again_after = [&] {
    for (int calls = 1; calls <= 30; ++calls) {
      const auto call = row.next(place);
      if (call.again) {
        CHECK(call.phrase.notes == missed.notes); // over the same bars, in the same place
        return calls;
      }
      row.answered(0.9);
    }
    return 0;
  };
  CHECK(again_after() == 3);
  row.answered(0.1);
  CHECK(again_after() == 8);
  row.answered(1.0);
  CHECK(again_after() == 0);
  CHECK(row.waiting() == 0);
}
