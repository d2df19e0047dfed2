#include "practice/trade_turn.hpp"
#include "sample_session.hpp"

namespace landfall {
namespace {

song::Performance performance_of(const char* progression) {
  practice::Session session(test::setup_for(progression));
  session.start();
  session.advance({});
  return session.timeline().performance;
}

ear::HeardNote heard(Ticks on, int midi) {
  ear::HeardNote note;
  note.on = on;
  note.off = note.silent = on + eighth;
  note.midi = midi;
  return note;
}

/// Two bars of call, two of answer, over one chord: A C# E A in quarters.
practice::TradeTurn sample_turn(const song::Performance& performance) {
  practice::TradeTurn turn;
  turn.turn = *trade::turn_from(performance, {}, 0, {});
  turn.call = practice::blank_over(performance, turn.turn.call, turn.turn.answer);
  for (const int midi : {57, 61, 64, 69}) {
    trade::PhraseNote note;
    note.start = quarter * static_cast<std::int64_t>(turn.call.notes.size());
    note.length = quarter;
    note.midi = {midi};
    turn.call.notes.push_back(note);
  }
  turn.asked = turn.call;
  return turn;
}

TEST_CASE("a turn is whole bars of call and answer, and opens a beat before the answer") {
  const auto performance = performance_of("A | A | D | D");
  const auto first = trade::turn_from(performance, {}, 0, {});
  REQUIRE(first);
  CHECK(first->call == Ticks{});
  CHECK(first->answer == test::bar * 2);
  CHECK(first->end == test::bar * 4);
  CHECK(first->opens() == test::bar * 2 - quarter);
  const auto next = trade::turn_from(performance, first->end, 1, {1, 2, false});
  REQUIRE(next);
  CHECK(next->answer - next->call == test::bar);
  CHECK(next->end - next->answer == test::bar * 2);
}

TEST_CASE("where the player begins, the first turn has no call") {
  const auto performance = performance_of("A | A | D | D");
  CHECK_FALSE(trade::turn_from(performance, {}, 0, {2, 2, true})->has_call());
  CHECK(trade::turn_from(performance, {}, 1, {2, 2, true})->has_call());
}

TEST_CASE("an answer is judged note by note, the same so far and in the end") {
  const auto turn = sample_turn(performance_of("A | A | A | A"));
  const auto at = turn.turn.answer;
  const std::vector notes{heard(at, 57), heard(at + quarter, 62), heard(at + quarter * 3, 69)};
  const auto whole = practice::judge_turn(turn, notes, {}, Tempo{});
  CHECK(whole.words == "2 of 4 notes");
  CHECK(whole.share == doctest::Approx(0.5));
  const auto later = practice::judge_turn(turn, notes, {}, Tempo{}, turn.turn.end + test::bar);
  CHECK(later.words == whole.words);
  const auto early = practice::judge_turn(turn, std::span(notes).first(1), {}, Tempo{}, at);
  CHECK(early.match.count(ear::Fate::waiting) == 3);
}

TEST_CASE("what is played along with the call is no extra note") {
  const auto turn = sample_turn(performance_of("A | A | A | A"));
  const std::vector notes{heard(turn.turn.answer - eighth, 50), heard(turn.turn.answer, 57)};
  CHECK(practice::judge_turn(turn, notes, {}, Tempo{}).match.extras.empty());
}

TEST_CASE("what a teacher plays becomes the call") {
  const auto performance = performance_of("A | A | D | D");
  const std::vector notes{heard(quarter, 61), heard(test::bar * 2, 62)};
  const auto blank = practice::blank_over(performance, {}, test::bar * 2);
  const auto call = practice::phrase_of(notes, blank, {}, test::bar * 2);
  REQUIRE(call.notes.size() == 1);
  CHECK(call.notes[0].start == quarter);
  CHECK(ascii(call.notes[0].degree) == "3");
}

} // namespace
} // namespace landfall
