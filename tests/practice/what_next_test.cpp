#include "practice/history_sample.hpp"
#include "practice/players/learner.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

namespace {

Offers offers() {
  Offers all;
  all.songs = {{"one", false, tempo_from_bpm(100), {}},
               {"two", false, tempo_from_bpm(120), {}},
               {"three", true, tempo_from_bpm(80), {}}};
  all.places = {"E", "C", "A", "G", "D"};
  all.first = cell("A");
  return all;
}

/// Twelve cells: four keys, three shapes.
std::vector<Cell> twelve() {
  std::vector<Cell> cells;
  for (const char* key : {"A", "D", "G", "C"})
    for (const char* place : {"E", "C", "A"})
      cells.push_back(cell(key, place));
  return cells;
}

/// What became of a month.
struct Month {
  double before = 0, after = 0; ///< Mean skill.
  double longest = 0;           ///< Days that a cell rested.
  int weak = 0, strong = 0;     ///< Proposals of the third that was weakest, and strongest.
};

/// 1 if a cell is one of the four from `first` on.
int is_among(const std::vector<Cell>& cells, const Cell& cell, std::ptrdiff_t first) {
  const auto from = cells.begin() + first;
  return std::find(from, from + 4, cell) == from + 4 ? 0 : 1;
}

/// Thirty sessions, a day each: every cell once to begin with, then four proposals of six choruses,
/// chosen by the rule or at random from the same cells.
Month month_of(std::uint64_t seed, bool by_rule) {
  Learner player(seed);
  auto cells = twelve();
  std::vector<ChorusRecord> records;
  for (const auto& cell : cells)
    records.push_back(player.play({cell, theory::Over::chord, "one", {}, ""}, noon(0)));
  Month month;
  month.before = player.mean(cells);
  std::map<Cell, int> last;
  for (int day = 1; day <= 30; ++day) {
    auto chosen =
        what_next(history_of(records), noon(day), seed + static_cast<std::uint64_t>(day), offers());
    REQUIRE(chosen.size() == 4);
    for (std::size_t i = 0; i < chosen.size(); ++i)
      if (!by_rule)
        chosen[i].cell =
            cells[drawn_below(cells.size(), {seed, static_cast<std::uint64_t>(day), i})];
    std::sort(cells.begin(), cells.end(),
              [&](const auto& a, const auto& b) { return player.skill(a) < player.skill(b); });
    for (const auto& proposal : chosen) {
      month.weak += is_among(cells, proposal.cell, 0);
      month.strong += is_among(cells, proposal.cell, 8);
      last[proposal.cell] = day;
      for (int chorus = 0; chorus < 6; ++chorus)
        records.push_back(player.play(proposal, noon(day)));
    }
    for (const auto& cell : cells)
      month.longest = std::max(month.longest, static_cast<double>(day - last[cell]));
    player.sleep();
  }
  month.after = player.mean(cells);
  return month;
}

} // namespace

TEST_CASE("over 30 sessions weak cells come more often, none is forgotten, and it beats chance") {
  double worst_gain = 1, worst_rest = 0, worst_ratio = 100, gain_sum = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto rule = month_of(seed, true), chance = month_of(seed, false);
    const double gain = (rule.after - rule.before) - (chance.after - chance.before);
    gain_sum += gain;
    worst_gain = std::min(worst_gain, gain);
    worst_rest = std::max(worst_rest, rule.longest);
    worst_ratio = std::min(worst_ratio, static_cast<double>(rule.weak) / std::max(1, rule.strong));
  }
  MESSAGE("worst of 20: gain over chance "
          << worst_gain << ", mean " << gain_sum / 20 << "; longest rest " << worst_rest
          << " days; weak cells " << worst_ratio << " times as often as strong ones");
  CHECK(worst_gain > 0);
  CHECK(worst_rest <= 14);
  CHECK(worst_ratio > 1.0);
}

TEST_CASE("without a history there is a place to begin, and others beside it") {
  const auto next = what_next({}, noon(1), 1, offers());
  REQUIRE(next.size() == 4);
  CHECK(next[0].cell == cell("A"));
  CHECK(next[0].song != "three");
  std::set<Cell> cells;
  for (const auto& proposal : next) {
    cells.insert(proposal.cell);
    CHECK_FALSE(proposal.why.empty());
    CHECK(proposal.why.find('\n') == std::string::npos);
  }
  CHECK(cells.size() == 4);
}

TEST_CASE("the weak comes before the strong, and what was forgotten before both") {
  std::vector<ChorusRecord> records;
  for (int i = 0; i < 3; ++i) {
    records.push_back(chorus(cell("A"), noon(20), 8, 8));
    records.push_back(chorus(cell("D"), noon(20), 1, 8));
    records.push_back(chorus(cell("G"), noon(10), 8, 8));
  }
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto next = what_next(history_of(records), noon(21), seed, offers());
    CHECK(next[0].cell == cell("G"));
    CHECK(next[0].why == "not played for 11 days");
    CHECK(next[1].cell == cell("D"));
    CHECK(next[1].why == "landed 3 of 24, not played since yesterday");
  }
}

TEST_CASE("minor cells get minor songs; a weak cell goes slower, a sure one faster") {
  std::vector<ChorusRecord> records;
  for (int i = 0; i < 4; ++i) {
    records.push_back(chorus(cell("Am"), noon(1), 0, 8));
    records.push_back(chorus(cell("C"), noon(1), 8, 8));
  }
  for (const auto& proposal : what_next(history_of(records), noon(3), 5, offers())) {
    if (proposal.cell == cell("Am"))
      CHECK((proposal.song == "three" && proposal.tempo == tempo_from_bpm(80 * 0.85)));
    if (proposal.cell == cell("C"))
      CHECK(bpm(proposal.tempo) > 105);
  }
}

TEST_CASE("the same arguments give the same answer, and mixing keeps neighbours apart") {
  std::vector<ChorusRecord> records;
  for (const auto& known : twelve())
    for (int i = 0; i < 2; ++i)
      records.push_back(chorus(known, noon(1), 3, 8));
  const auto history = history_of(records);
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto next = what_next(history, noon(3), seed, offers());
    const auto again = what_next(history, noon(3), seed, offers());
    std::set<std::string> keys;
    for (std::size_t i = 0; i < next.size(); ++i) {
      CHECK(next[i].cell == again[i].cell);
      CHECK(next[i].song == again[i].song);
      keys.insert(ascii(next[i].cell.key));
    }
    CHECK(keys.size() >= 3);
  }
}

TEST_CASE("where nothing is weak the last proposal is new, next to what goes best") {
  std::vector<ChorusRecord> records;
  for (int i = 0; i < 3; ++i)
    for (const char* key : {"A", "D", "G", "C", "F"})
      records.push_back(chorus(cell(key), noon(1), 8, 8));
  const auto next = what_next(history_of(records), noon(2), 3, offers());
  CHECK(history_of(records).find(next.back().cell) == nullptr);
  CHECK(next.back().why.starts_with("new: "));
}
