#include "practice/history_sample.hpp"
#include "practice/plots.hpp"
#include "practice/rest_hint.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

TEST_CASE("choruses add up by cell, degree, day and week, in whatever order they come") {
  std::vector<ChorusRecord> records{
      chorus(cell("A"), noon(3), 6, 8, 1), chorus(cell("A"), noon(1), 2, 8, 3),
      chorus(cell("A", "C"), noon(3), 1, 4, 1), chorus(cell("Em"), noon(12), 0, 0, 5)};
  for (int turn = 0; turn < 4; ++turn) {
    std::rotate(records.begin(), records.begin() + 1, records.end());
    const auto history = history_of(records);
    CHECK(history.choruses == 4);
    CHECK(history.length == Minutes{2});
    REQUIRE(history.cells.size() == 3);
    const auto* a = history.find(cell("A"));
    REQUIRE(a);
    CHECK(a->landings == Landings{16, 8});
    CHECK(a->last == noon(3));
    CHECK(history.by_degree.at(1).landed == 7);
    CHECK(history.by_degree.at(3).landed == 2);
    REQUIRE(history.days.size() == 3);
    CHECK(history.days[1].landings == Landings{12, 7});
    REQUIRE(history.weeks.size() == 3); // 1 March 2026 is a Sunday
    CHECK(history.weeks[0].from == std::chrono::floor<std::chrono::days>(noon(-5)));
  }
}

TEST_CASE("what was played last counts more, and a chorus of rests changes no rate") {
  const auto better =
      history_of(std::vector{chorus(cell("A"), noon(1), 0, 8), chorus(cell("A"), noon(2), 8, 8)});
  const auto worse =
      history_of(std::vector{chorus(cell("A"), noon(1), 8, 8), chorus(cell("A"), noon(2), 0, 8)});
  CHECK(better.cells[0].recent_rate > worse.cells[0].recent_rate);
  auto rests = chorus(cell("A"), noon(1), 0, 0);
  rests.summary.changes = rests.summary.rest = 8;
  CHECK(history_of(std::vector{rests}).cells[0].recent_rate == doctest::Approx(0.5));
  CHECK(history_of(std::vector{rests}).landings() == Landings{0, 0});
}

TEST_CASE("a chorus near midnight belongs to the day on the player's own clock") {
  const auto late = noon(3) + std::chrono::hours{11};
  const std::vector records{chorus(cell("A"), late, 1, 2)};
  const auto day = [&](int east) {
    return history_of(records, std::chrono::hours{east}).days[0].from;
  };
  CHECK(day(2) == day(0) + std::chrono::days{1});
  CHECK(day(-8) == day(0));
}

TEST_CASE("verdicts are kept with their bars, and the player's own word is marked") {
  ear::JudgedChange heard;
  heard.bar = 3;
  heard.beat = 1;
  heard.chord = *theory::parse_chord("E7");
  heard.verdict = ear::Verdict::landed;
  heard.degree = *theory::parse_degree("b7");
  auto own = heard;
  own.degree.reset();
  own.own_word = true;
  const std::vector changes{heard, own};
  ChorusRecord record;
  fill_in(record, changes, {});
  REQUIRE(record.changes.size() == 2);
  CHECK(record.changes[0] == KeptChange{3, 1, "E7", ear::Verdict::landed, heard.degree, false});
  CHECK(record.changes[1].own_word);
  CHECK(record.own_words == 1);
}

TEST_CASE("the map has keys up the circle of fourths and shapes in their order, sets added up") {
  const auto history = history_of(std::vector{
      chorus(cell("A", "fret 12"), noon(1), 1, 2), chorus(cell("A", "fret 5"), noon(1), 1, 2),
      chorus(cell("G", "E"), noon(1), 1, 2), chorus(cell("C", "C"), noon(1), 1, 2),
      chorus(cell("Am", "D"), noon(1), 1, 2), chorus(cell("C", "C", "blues"), noon(1), 2, 4)});
  const auto map = heat_map(history);
  std::string keys, places;
  for (const auto& key : map.keys)
    keys += ascii(key) + " ";
  for (const auto& place : map.places)
    places += place + ",";
  CHECK(keys == "C A G Am ");
  CHECK(places == "C,E,D,fret 5,fret 12,");
  CHECK(*map.at(*theory::parse_key("C"), "C") == Landings{6, 3});
  CHECK(map.at(*theory::parse_key("C"), "E") == nullptr);
  CHECK(map.most_played() == 6);
}

TEST_CASE("the plots name every key, place and degree, and an empty history makes a sheet too") {
  const auto history = history_of(std::vector{chorus(cell("F#"), noon(1), 80, 100, 1),
                                              chorus(cell("F#", "C"), noon(2), 15, 20, 3)});
  const auto svg = history_svg(history, std::chrono::floor<std::chrono::days>(noon(3)));
  for (const char* word :
       {"F#", "E shape", "C shape", "roots", "thirds", ">80<", ">15<", "80 of 100"})
    CHECK_MESSAGE(svg.find(word) != std::string::npos, word);
  CHECK(svg.ends_with("</svg>\n"));
  CHECK(history_svg({}, {}).find("Nothing practised yet") != std::string::npos);
}

TEST_CASE("days without playing are there too, up to today") {
  const auto history =
      history_of(std::vector{chorus(cell("A"), noon(1), 1, 2), chorus(cell("A"), noon(4), 1, 2)});
  const auto days = last_days(history, std::chrono::floor<std::chrono::days>(noon(5)), 5);
  REQUIRE(days.size() == 5);
  std::string played;
  for (const auto& day : days)
    played += day.length > Minutes{0} ? 'x' : '.';
  CHECK(played == "x..x.");
  CHECK(last_weeks(history, days.back().from, 3).back().landings == Landings{2, 1});
}

TEST_CASE("a rest is suggested once after 25 minutes, and again only after a pause") {
  RestHint hint;
  int said = 0;
  Nanoseconds now{};
  const auto play = [&](bool playing, int minutes) {
    for (int second = 0; second < minutes * 60; ++second)
      said += hint.is_due(playing, now += std::chrono::seconds(1)) ? 1 : 0;
  };
  play(true, 24);
  play(false, 1); // too short for a rest
  CHECK(said == 0);
  play(true, 10);
  CHECK(said == 1);
  play(true, 100);
  CHECK(said == 1);
  play(false, 3);
  play(true, 24);
  CHECK(said == 1);
  play(true, 2);
  CHECK(said == 2);
}
