#include "ear/note_class.hpp"
#include "ear/players.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::test;

namespace {

constexpr Ticks bars_end{3840 * 40};

Ticks at_of(const ear::Event& event) {
  return std::visit([](const auto& each) { return each.at; }, event);
}

/// Chords in quick and slow succession, a loop, commands while it plays.
Stage busy() {
  Stage stage{"A D E A | D | N.C. E | A7 | Dm7 G7 | A | A | A | A | A"};
  stage.bars = 44;
  stage.commands.emplace_back(7, practice::SetTempo{tempo_from_bpm(173.0)});
  stage.commands.emplace_back(9, practice::SetKey{theory::parse_key("Bb").value()});
  stage.commands.emplace_back(13, practice::SetTempo{tempo_from_bpm(49.0)});
  stage.commands.emplace_back(17, practice::SetTarget{neck::parse_target("3 7").value()});
  stage.commands.emplace_back(22, practice::SetLoop{practice::BarRange{1, 2}});
  stage.commands.emplace_back(27, practice::SetTempo{tempo_from_bpm(320.0)});
  stage.commands.emplace_back(33, practice::SetTarget{});
  return stage;
}

/// Listens piece by piece: ground, notes and verdicts grow with `now`.
std::vector<ear::JudgedChange> judged_live(const practice::Timeline& timeline,
                                           const std::vector<ear::Event>& events,
                                           const std::vector<Ticks>& cuts, std::size_t keep) {
  practice::GroundBuilder builder({&guitar(), nullptr, nullptr});
  ear::Tracker tracker;
  ear::LiveJudge judge;
  auto next = events.begin();
  for (const auto now : cuts) {
    for (; next != events.end() && at_of(*next) < now; ++next)
      tracker.take(*next);
    builder.extend(timeline, now);
    judge.advance(builder.ground(), tracker.notes(), now);
    if (keep > 0)
      tracker.forget_before(now - quarter * 32, keep);
  }
  return judge.changes();
}

std::vector<Ticks> cuts_of(unsigned seed, int most) {
  std::mt19937 random(seed);
  std::vector<Ticks> cuts;
  for (Ticks now; now < bars_end; cuts.push_back(now))
    now = std::min(now + Ticks{std::uniform_int_distribution<int>(1, most)(random)}, bars_end);
  return cuts;
}

} // namespace

TEST_CASE("live, in pieces of any size, gives the verdicts of the whole") {
  const auto timeline = timeline_of(busy());
  const auto ground = practice::ground_of(timeline, {&guitar(), nullptr, nullptr}, bars_end);
  const auto in_a = theory::parse_key("A").value();
  for (unsigned seed = 1; seed <= 24; ++seed) {
    const auto events = seed % 3 == 0   ? perfect(ground, in_a, seed)
                        : seed % 3 == 1 ? aimless(ground, in_a, sixteenth, seed)
                                        : wild(bars_end, seed);
    const auto whole = ear::judge(ground, heard(events), {}).changes;
    const auto live = judged_live(timeline, events, cuts_of(seed, seed % 2 == 0 ? 97 : 5000), 0);
    REQUIRE(live.size() + 8 >= whole.size());
    REQUIRE(live.size() <= whole.size());
    for (std::size_t i = 0; i < live.size(); ++i)
      CHECK_MESSAGE(live[i] == whole[i], "seed " << seed << ", change " << i << ": "
                                                 << words_of(live[i]) << " / "
                                                 << words_of(whole[i]));
  }
}

TEST_CASE("what was forgotten in between does not matter") {
  const auto timeline = timeline_of(busy());
  const auto events = wild(bars_end, 5);
  const auto cuts = cuts_of(5, 400);
  CHECK(judged_live(timeline, events, cuts, 64) == judged_live(timeline, events, cuts, 0));
}

TEST_CASE("judged up to any tick, changes are those of the whole, and so are notes once final") {
  const auto ground =
      practice::ground_of(timeline_of(busy()), {&guitar(), nullptr, nullptr}, bars_end);
  for (unsigned seed = 1; seed <= 6; ++seed) {
    const auto events = wild(bars_end, seed);
    const auto whole = ear::judge(ground, heard(events), {});
    for (const auto until : cuts_of(seed, 20000)) {
      std::vector<ear::Event> so_far;
      std::ranges::copy_if(events, std::back_inserter(so_far),
                           [&](const auto& event) { return at_of(event) < until; });
      const auto part = ear::judge(ground, heard(so_far), {}, until);
      REQUIRE(part.changes.size() <= whole.changes.size());
      CHECK(std::equal(part.changes.begin(), part.changes.end(), whole.changes.begin()));
      for (std::size_t i = 0; i < part.notes.size(); ++i)
        if (ear::note_final_at(ground, part.notes[i].at) <= until)
          CHECK(part.notes[i] == whole.notes.at(i));
    }
  }
}

TEST_CASE("a landing on the beat is told an eighth later, an arrival that is off two beats later") {
  const Stage plain{"A | D"};
  const auto timeline = timeline_of(plain);
  const auto told = [&](const char* played) {
    const auto ground = ground_of(plain);
    const auto change = tick_of("2:1", ground);
    for (Ticks now = change; now < change + quarter * 4; now += Ticks{10}) {
      std::vector<ear::Event> events;
      for (const auto& event : events_of(played, ground))
        if (at_of(event) < now)
          events.push_back(event);
      if (judged_live(timeline, events, {now}, 0).size() > 1)
        return now - change;
    }
    return Ticks{-1};
  };
  CHECK(told("1:1 A4 1; 2:1 F#4 1") <= sixteenth * 3);
  CHECK(told("1:1 A4 1; 1:4 F#4 2") <= sixteenth * 3);
  CHECK(told("1:1 A4 1; 2:1 E4 2") <= quarter * 2);
  CHECK(told("1:1 A4 1; 2:1 E4 2") > quarter);
}

TEST_CASE("what comes late by the input's latency, taken off, is judged the same") {
  const auto ground = ground_of({.chart = "A | D | E | A", .bars = 40});
  const auto events = wild(Ticks{3840 * 40}, 11);
  const auto whole = ear::judge(ground, heard(events), {});
  for (const double latency_ms : {3.0, 17.5, 61.0, 240.0}) {
    const Nanoseconds latency{static_cast<std::int64_t>(latency_ms * 1e6)};
    auto arrived = events;
    for (auto& event : arrived)
      std::visit(
          [&](auto& each) {
            const auto came = ground.tempo.time_at(each.at) + latency;
            each.at = ground.tempo.tick_at(came - latency);
          },
          event);
    CHECK(ear::judge(ground, heard(arrived), {}) == whole);
  }
}
