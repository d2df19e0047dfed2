#include "practice/history_chorus.hpp"
#include "practice/history_sample.hpp"
#include "practice/sample_session.hpp"

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

namespace {

ear::JudgedChange at(int bars, ear::Verdict verdict) {
  ear::JudgedChange change;
  change.at = bar * bars;
  change.bar = bars + 1;
  change.chord = *theory::parse_chord("A");
  change.verdict = verdict;
  return change;
}

struct Performed {
  Session session{setup_for("A | D | E | A")};
  neck::Instrument guitar = neck::standard_guitar();
  std::vector<ear::JudgedNote> notes;

  void behind(Ticks when, double ms) {
    notes.emplace_back().at = when;
    notes.back().deviation_ms = ms;
  }

  std::vector<ChorusRecord> records(const std::vector<ear::JudgedChange>& changes) {
    return records_of({&session.timeline(), &guitar, notes, "mine", noon(1)}, changes);
  }
};

} // namespace

TEST_CASE("a chorus makes one record: its place, its tempo, and its length to the end") {
  Performed performed;
  performed.session.start();
  play(performed.session, {}, bar * 4);
  const auto records = performed.records(
      {at(0, ear::Verdict::landed), at(1, ear::Verdict::off), at(3, ear::Verdict::rest)});
  REQUIRE(records.size() == 1);
  CHECK(records[0].cell.place == "E");
  CHECK(records[0].song == "mine");
  CHECK(records[0].summary.landed == 1);
  CHECK(records[0].changes.size() == 3);
  CHECK(records[0].length.count() == doctest::Approx(4 * 2.0)); // four bars at 120
}

TEST_CASE("where the key changes on the way there are two, and rests alone make none") {
  Performed performed;
  performed.session.start();
  performed.session.apply(SetKey{*theory::parse_key("C")}, bar * 2);
  performed.behind(Ticks{-100}, 5.0); // a pick-up
  performed.behind(bar, 15.0);
  performed.behind(bar * 2, -20.0);
  performed.behind(bar * 4, -40.0);
  play(performed.session, {}, bar * 4);
  const auto records = performed.records({at(0, ear::Verdict::landed), at(1, ear::Verdict::landed),
                                          at(2, ear::Verdict::off), at(3, ear::Verdict::landed)});
  REQUIRE(records.size() == 2);
  CHECK(ascii(records[0].cell.key) == "A");
  CHECK(ascii(records[1].cell.key) == "C");
  CHECK(records[1].summary.off == 1);
  CHECK(records[0].summary.deviation_mean_ms == doctest::Approx(10.0));
  CHECK(records[1].summary.deviation_mean_ms == doctest::Approx(-30.0));
  CHECK(performed.records({at(0, ear::Verdict::rest), at(1, ear::Verdict::rest)}).empty());
}

TEST_CASE("a place is asked for again by its name") {
  const auto guitar = neck::standard_guitar();
  for (const auto& place : neck::all_positions(guitar, *theory::parse_key("A"))) {
    const auto request = place_request(place_name(guitar, place));
    CHECK(request.shape == place.shape->name);
  }
  CHECK(place_request("fret 7").position == 7);
  CHECK(place_request("from 60").position == 60);
  CHECK(place_request("nowhere") == neck::PlaceRequest{});
}
