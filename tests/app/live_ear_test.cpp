#include "app/live_ear.hpp"
#include "neck/instrument.hpp"
#include "practice/history_chorus.hpp"
#include "practice/sample_session.hpp"

using namespace landfall;
using namespace landfall::app;
using namespace landfall::test;
using std::chrono::milliseconds;

namespace {

/// A | D at 120, chorus after chorus, with a player on its roots.
struct Stage {
  practice::Session session{setup_for("A | D")};
  neck::Instrument guitar = neck::standard_guitar();
  LiveEar ear;

  explicit Stage(std::optional<Nanoseconds> latency) {
    session.start();
    Listener::Setup setup;
    setup.instrument = std::make_shared<const neck::Instrument>(guitar);
    setup.input.latency = latency;
    ear.begin(setup);
  }

  void strike(Ticks at, int note) {
    midi::NoteEvent event;
    event.note = static_cast<std::uint8_t>(note);
    event.velocity = 90;
    event.on = true;
    ear.hear(event, at);
    event.on = false;
    ear.hear(event, at + eighth);
  }

  /// All four beats of a bar, each so much behind.
  void play_bar(int number, Ticks behind) {
    const int root = number % 2 == 0 ? 57 : 62;
    for (int beat = 0; beat < 4; ++beat)
      strike(bar * number + quarter * beat + behind, root);
    for (const int beat : {1, 2}) // double stops
      strike(bar * number + quarter * beat + behind, root + 7);
  }

  void advance(Ticks to) {
    play(session, to - bar, to);
    ear.advance(session.timeline(), to);
  }

  std::vector<practice::ChorusRecord> records(const LiveEar::Chorus& chorus) {
    practice::ChorusFacts facts;
    facts.timeline = &session.timeline();
    facts.instrument = &guitar;
    facts.notes = chorus.notes;
    return practice::records_of(facts, chorus.changes);
  }
};

constexpr Ticks late{48}; ///< 25 ms at 120.

} // namespace

TEST_CASE("a chorus tells how its notes lay once the input is calibrated, and not before") {
  for (const bool calibrated : {true, false}) {
    Stage stage(calibrated ? std::optional<Nanoseconds>(milliseconds(5)) : std::nullopt);
    std::vector<LiveEar::Chorus> choruses;
    for (int number = 0; number < 6; ++number) {
      stage.play_bar(number, number < 2 ? late : Ticks{});
      stage.advance(bar * (number + 1));
      for (auto& chorus : stage.ear.take_choruses())
        choruses.push_back(std::move(chorus));
    }
    stage.ear.end(stage.session.timeline(), bar * 6);
    for (auto& chorus : stage.ear.take_choruses())
      choruses.push_back(std::move(chorus));
    REQUIRE(choruses.size() == 3);
    for (std::size_t i = 0; i < choruses.size(); ++i) {
      const auto& chorus = choruses[i];
      CHECK(chorus.summary.changes == 2);
      CHECK(chorus.notes.size() == (calibrated ? 12 : 0));
      CHECK(chorus.summary.deviation_mean_ms.has_value() == calibrated);
      const auto records = stage.records(chorus);
      REQUIRE(records.size() == 1);
      REQUIRE(records[0].summary.deviation_mean_ms.has_value() == calibrated);
      if (calibrated)
        CHECK(*records[0].summary.deviation_mean_ms == doctest::Approx(i == 0 ? 25.0 : 0.0));
    }
  }
}

TEST_CASE("the player's word on the last change of a chorus goes with it into the history") {
  Stage stage(std::nullopt);
  stage.strike({}, 57);
  stage.strike(bar, 56); // no note of D
  stage.advance(bar * 2 - quarter);
  CHECK(stage.ear.say(true, bar + quarter * 2 - Ticks{1})); // from there on the seam is nearer
  stage.advance(bar * 3);
  const auto choruses = stage.ear.take_choruses();
  REQUIRE(choruses.size() == 1);
  REQUIRE(choruses[0].changes.size() == 2);
  CHECK(choruses[0].changes[1].own_word);
  CHECK(choruses[0].summary.landed == 2);
  const auto records = stage.records(choruses[0]);
  REQUIRE(records.size() == 1);
  CHECK(records[0].own_words == 1);
}

TEST_CASE("a word at the seam is about the chorus that begins, and changes nothing of the last") {
  Stage stage(std::nullopt);
  stage.strike({}, 57);
  stage.strike(bar, 56);
  stage.advance(bar * 2 + eighth);
  CHECK(stage.ear.say(true, bar * 2 + eighth));
  stage.advance(bar * 3);
  stage.advance(bar * 5);
  const auto choruses = stage.ear.take_choruses();
  REQUIRE(choruses.size() == 2);
  CHECK(choruses[0].summary.off == 1);
  REQUIRE(choruses[1].changes.front().own_word);
  CHECK(choruses[1].summary.landed == 1);
}
