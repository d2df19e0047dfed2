#include "ear/players.hpp"
#include "ear/words.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace landfall;
using namespace landfall::test;

namespace {

const Stage plain{.chart = "A | D | E | A", .bars = 16};

/// The deviations of the notes in whole milliseconds, `-` where there is none.
std::string deviations(const Stage& stage, const char* played, double swing = 0.5) {
  auto ground = ground_of(stage);
  for (auto& span : ground.spans)
    span.swing = swing;
  std::string text;
  for (const auto& note : ear::judge(ground, heard(events_of(played, ground)), {}).notes) {
    text += text.empty() ? "" : " ";
    text += note.deviation_ms ? std::to_string(std::lround(*note.deviation_ms)) : "-";
  }
  return text;
}

} // namespace

TEST_CASE("timing is told from the part of the beat that is meant") {
  // A beat is 500 ms.
  CHECK(deviations(plain, "1:2 A4 1") == "0");
  CHECK(deviations(plain, "1:2+20 A4 1; 1:3-15 A4 1") == "20 -15");
  CHECK(deviations(plain, "2:1-30 A4 1") == "-30");
  CHECK(deviations(plain, "1:2+5 A4 .4; 1:2.5+25 A4 .4") == "5 25");
  CHECK(deviations(plain, "1:2 A4 .2; 1:2.25+10 A4 .2; 1:2.5 A4 .2; 1:2.75-10 A4 .2") ==
        "0 10 0 -10");
  CHECK(deviations(plain, "1:2 A4 .3; 1:2.3333+8 A4 .3; 1:2.6667-6 A4 .3") == "0 8 -6");
}

TEST_CASE("the coarser division is preferred") {
  CHECK(deviations(plain, "1:2.5+40 A4 .3") == "40");  // not a triplet's third
  CHECK(deviations(plain, "1:2.5-40 A4 .3") == "-40"); // nor its second
}

TEST_CASE("swung eighths are told from where the feel has them") {
  CHECK(deviations(plain, "1:2 A4 .5; 1:2.6667+12 A4 .3", 2.0 / 3) == "0 12");
  CHECK(deviations(plain, "1:2 A4 .5; 1:2.5+12 A4 .3", 2.0 / 3) == "0 12");
  CHECK(deviations(plain, "1:2 A4 .5; 1:2.6+12 A4 .3", 0.6) == "0 12");
}

TEST_CASE("grace notes and slides are left out") {
  CHECK(deviations(plain, "1:2-50 G4 .1; 1:2+10 A4 1") == "- 10");
  CHECK(deviations(plain, "1:2-60 G4 .5 s2; 1:2 A4 1 s2; 1:3+7 A4 1 s2") == "- - 7");
}

TEST_CASE("a strummed chord is one event") {
  CHECK(deviations(plain, "1:2+10 A3 1; 1:2+25 C#4 1; 1:2+40 E4 1") == "10 10 10");
}

TEST_CASE("in 6/8 the beat is the dotted quarter") {
  const Stage stage{"key: A\nmeter: 6/8\ntempo: 60\n\n| A | D |\n"};
  CHECK(deviations(stage, "1:1+10 A4 .3; 1:1.3333+20 A4 .3; 1:1.6667-20 A4 .3") == "10 20 -20");
}

TEST_CASE("the tempo that holds is the one that counts") {
  Stage stage{"A | D"};
  stage.commands.emplace_back(2, practice::SetTempo{tempo_from_bpm(60.0)});
  CHECK(deviations(stage, "1:4+20 A4 .4; 2:2+20 A4 .4") == "20 20");
}

TEST_CASE("without calibration there is no timing") {
  const auto ground = ground_of(plain);
  ear::Settings settings;
  settings.timing = false;
  const auto judgement = ear::judge(ground, heard(events_of("1:2+20 A4 1", ground)), settings);
  CHECK_FALSE(judgement.notes.at(0).deviation_ms.has_value());
  CHECK_FALSE(judgement.summary.deviation_mean_ms.has_value());
}

TEST_CASE("a player who drags by 15 ms is found to: 20 seeds, the worst") {
  const auto ground = ground_of(plain);
  double worst = 0.0;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> late(15.0, 10.0);
    std::vector<ear::Event> events;
    for (Ticks at; at < Ticks{3840 * 16}; at += eighth) {
      const Ticks moved = at + Ticks{std::llround(late(random) * 1.92)};
      events.push_back(ear::NoteOn{moved, 0, 69, 90, std::nullopt});
      events.push_back(ear::NoteOff{moved + Ticks{200}, 0, 69});
    }
    const auto summary = ear::judge(ground, heard(events), {}).summary;
    worst = std::max(worst, std::abs(summary.deviation_mean_ms.value() - 15.0));
    CHECK(summary.deviation_sd_ms.value() == doctest::Approx(10.0).epsilon(0.25));
    CHECK(ear::timing_words(summary, 128).starts_with("mostly 1"));
    CHECK(ear::timing_words(summary, 128).ends_with(" ms behind"));
  }
  MESSAGE("worst of 20: " << worst << " ms off");
  CHECK(worst < 3.0);
}

TEST_CASE("a chorus in words, and never in percent") {
  ear::Summary summary;
  CHECK(ear::summary_words(summary).empty());
  summary.changes = 20;
  summary.rest = 3;
  summary.landed = 14;
  summary.late = 2;
  summary.off = 1;
  summary.by_degree = {{1, {5, 0}}, {3, {6, 1}}, {7, {3, 1}}};
  CHECK(ear::summary_words(summary) == "landed 14 of 17 · thirds 6, roots 5, sevenths 3 · 2 late");
  summary.deviation_mean_ms = -12.4;
  CHECK(ear::timing_words(summary, 40) == "mostly 12 ms ahead");
  CHECK(ear::timing_words(summary, 5).empty());
  summary.deviation_mean_ms = 2.0;
  CHECK(ear::timing_words(summary, 40) == "on the beat");
}
