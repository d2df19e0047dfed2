#include "practice/hand.hpp"
#include "practice/sample_session.hpp"

#include <cstdlib>

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

namespace {

constexpr const char* four_bars = "A | D | E | A";

std::string key_at(const Session& session, Ticks tick) {
  return ascii(session.timeline().choice_at(tick).key);
}

std::string chord_at_bar(const Session& session, int index) {
  return ascii(*session.timeline().performance.at(bar * index)->bar->chords[0].chord);
}

long bpm_at(const Session& session, Ticks tick) {
  return std::lround(bpm(session.timeline().tempo_at(tick)));
}

KeyMoves by(int every, int half_steps) {
  KeyMoves moves;
  moves.every = every;
  moves.half_steps = half_steps;
  moves.instrument = std::make_shared<const neck::Instrument>(neck::standard_guitar());
  return moves;
}

} // namespace

TEST_CASE("the key moves by any interval every so many choruses, the chords with it") {
  for (const int every : {1, 2, 3})
    for (int half_steps = 1; half_steps < 12; ++half_steps) {
      Session session(setup_for(four_bars));
      session.apply(SetKeyMoves{by(every, half_steps)}, {});
      session.start();
      play(session, -bar, bar * 4 * 9);
      for (int chorus = 0; chorus < 9; ++chorus) {
        const auto key = transposed(theory::parse_key("A").value(), half_steps * (chorus / every));
        CHECK(pitch_class(session.timeline().choice_at(bar * 4 * chorus).key.tonic) ==
              pitch_class(key.tonic));
        CHECK(
            pitch_class(
                session.timeline().performance.at(bar * 4 * chorus)->bar->chords[0].chord->root) ==
            pitch_class(key.tonic));
      }
    }
}

TEST_CASE("the hand stays within three frets of where it was, move by move") {
  const auto guitar = neck::standard_guitar();
  for (const char shape : {'C', 'A', 'G', 'E', 'D'})
    for (const int half_steps : {1, 2, 5}) {
      auto setup = setup_for(four_bars);
      setup.choice.place = {shape, std::nullopt};
      setup.choice.key_moves = by(1, half_steps);
      Session session(setup);
      session.start();
      play(session, -bar, bar * 4 * 24);
      for (int chorus = 1; chorus < 24; ++chorus) {
        const auto before = session.timeline().choice_at(bar * 4 * chorus - Ticks{1});
        const auto now = session.timeline().choice_at(bar * 4 * chorus);
        const auto low = home_of(guitar, now.key, now.place).low;
        CHECK(std::abs(low - home_of(guitar, before.key, before.place).low) <= 3);
        for (const auto& place : neck::all_positions(guitar, now.key))
          CHECK(std::abs(low - home_of(guitar, before.key, before.place).low) <=
                std::abs(place.low - home_of(guitar, before.key, before.place).low));
      }
    }
}

TEST_CASE("a hand set by its fret stays at that fret") {
  auto setup = setup_for(four_bars);
  setup.choice.place = {std::nullopt, 5};
  setup.choice.key_moves = by(1, 5);
  Session session(setup);
  session.start();
  play(session, -bar, bar * 40);
  CHECK(session.timeline().choice_at(bar * 36).place == neck::PlaceRequest{std::nullopt, 5});
}

TEST_CASE("a list of keys is gone through round and round") {
  auto moves = by(1, 0);
  for (const char* key : {"G", "D", "Bb"})
    moves.keys.push_back(theory::parse_key(key).value());
  Session session(setup_for(four_bars));
  session.apply(SetKeyMoves{moves}, {});
  session.start();
  play(session, -bar, bar * 40);
  std::string keys;
  for (int chorus = 0; chorus < 7; ++chorus)
    keys += key_at(session, bar * 4 * chorus) + " ";
  CHECK(keys == "A G D Bb G D Bb ");
}

TEST_CASE("a key chosen by hand is where the next move starts from") {
  Session session(setup_for(four_bars));
  session.apply(SetKeyMoves{by(1, 2)}, {});
  session.start();
  CHECK(key_at(session, bar * 8) == "Db");
  session.apply(SetKey{theory::parse_key("C").value()}, bar + Ticks{1});
  CHECK(ascii(session.latest_choice().key) == "C");
  CHECK(key_at(session, bar * 3) == "C");
  CHECK(key_at(session, bar * 4) == "D");
  CHECK(key_at(session, bar * 8) == "E");
  CHECK(chord_at_bar(session, 8) == "E");
  // in the last bar before a move: what is chosen holds instead of it
  session.apply(SetKey{theory::parse_key("F").value()}, bar * 3 + Ticks{1});
  CHECK(key_at(session, bar * 4) == "F");
  CHECK(chord_at_bar(session, 4) == "F");
  CHECK(key_at(session, bar * 8) == "G");
  // another change in the last bar leaves the move alone
  session.apply(SetIntensity{1.0}, bar * 7 + Ticks{1});
  CHECK(key_at(session, bar * 8) == "G");
  CHECK(chord_at_bar(session, 8) == "G");
  session.apply(SetKeyMoves{}, bar * 11 + Ticks{1});
  CHECK(key_at(session, bar * 30) == "G");
  CHECK(chord_at_bar(session, 12) == "G");
}

TEST_CASE("what is chosen follows the moves once they have happened, not before") {
  Session session(setup_for(four_bars));
  session.apply(SetKeyMoves{by(1, 5)}, {});
  session.start();
  session.advance(bar * 3);
  CHECK(ascii(session.latest_choice().key) == "A");
  session.advance(bar * 4);
  CHECK(ascii(session.latest_choice().key) == "D");
  session.stop();
  CHECK(ascii(session.latest_choice().key) == "D");
}

TEST_CASE("the tempo goes from one to the other in equal steps and stays there") {
  Session session(setup_for(four_bars));
  session.apply(SetTempoMoves{{tempo_from_bpm(80), tempo_from_bpm(120), 4}}, {});
  session.start();
  play(session, -bar, bar * 40);
  CHECK(bpm_at(session, -bar) == 80);
  for (int chorus = 0; chorus < 8; ++chorus) {
    CHECK(bpm_at(session, bar * 4 * chorus) == 80 + 10 * std::min(chorus, 4));
    CHECK(bpm_at(session, bar * 4 * chorus + bar * 3) == 80 + 10 * std::min(chorus, 4));
  }
  session.stop();
  CHECK(std::lround(bpm(session.latest_choice().tempo)) == 80);
}

TEST_CASE("moves of the tempo begin at the next bar, slow down too, and end by hand") {
  Session session(setup_for(four_bars));
  session.start();
  session.apply(SetTempoMoves{{tempo_from_bpm(100), tempo_from_bpm(60), 2}}, bar * 5 + Ticks{1});
  CHECK(bpm_at(session, bar * 6 - Ticks{1}) == 120);
  CHECK(bpm_at(session, bar * 6) == 100);
  CHECK(bpm_at(session, bar * 8) == 80);
  CHECK(bpm_at(session, bar * 12) == 60);
  CHECK(bpm_at(session, bar * 16) == 60);
  session.apply(SetTempo{tempo_from_bpm(90)}, bar * 9);
  CHECK(bpm_at(session, bar * 9 - Ticks{1}) == 80);
  CHECK(bpm_at(session, bar * 9) == 90);
  CHECK(bpm_at(session, bar * 16) == 90);
}

TEST_CASE("the timeline with moves under changes of all kinds is one that repeats exactly") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto run = [&] {
      Session session(setup_for(four_bars));
      session.apply(SetKeyMoves{by(1 + static_cast<int>(seed % 3), 5)}, {});
      session.apply(SetTempoMoves{{tempo_from_bpm(70), tempo_from_bpm(130), 9}}, {});
      session.start();
      std::uint64_t random = seed;
      const auto roll = [&](std::uint64_t sides) {
        random = random * 6364136223846793005ULL + 1442695040888963407ULL;
        return (random >> 33U) % sides;
      };
      for (Ticks now; now < bar * 200; now += {static_cast<std::int64_t>(500 + roll(9000))}) {
        session.advance(now);
        const auto soon = now + Ticks{60};
        if (roll(6) == 0)
          session.apply(SetPlace{{"CAGED"[roll(5)], std::nullopt}}, soon);
        if (roll(6) == 0)
          session.apply(SetIntensity{0.5}, soon);
        if (roll(9) == 0)
          session.apply(SetLoop{BarRange{1, 1 + static_cast<int>(roll(4))}}, soon);
      }
      return session.timeline();
    };
    const auto timeline = run();
    // the chords are always those of the key in force
    for (const auto& stretch : timeline.performance.stretches()) {
      CHECK(timeline.choice_at(stretch.start).key == stretch.form->key);
      CHECK(timeline.tempo_at(stretch.start) == timeline.choice_at(stretch.start).tempo);
    }
    CHECK(run().tempi == timeline.tempi);
    CHECK(timeline.tempo_at(bar * 190) == tempo_from_bpm(130));
  }
}
