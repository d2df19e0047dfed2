#include "../practice/sample_session.hpp"
#include "app/trade_json.hpp"
#include "app/trading.hpp"
#include "practice/hand.hpp"
#include "song/unroll.hpp"
#include "time/random.hpp"

using namespace landfall;
using namespace landfall::app;

namespace {

/// What a player makes of what a turn asks for.
using Answer = std::function<std::vector<ear::HeardNote>(const practice::TradeTurn&)>;

ear::HeardNote heard(Ticks on, Ticks length, int midi) {
  ear::HeardNote note;
  note.on = on;
  note.off = note.silent = on + length;
  note.midi = midi;
  return note;
}

std::vector<ear::HeardNote> exact(const practice::TradeTurn& turn) {
  std::vector<ear::HeardNote> notes;
  for (const auto& note : turn.asked.notes)
    notes.push_back(heard(turn.turn.answer + note.start, note.length, note.midi.number));
  return notes;
}

std::vector<ear::HeardNote> none(const practice::TradeTurn&) {
  return {};
}

/// A band, a trade and a player, on ticks that are counted by hand.
class Stage {
public:
  explicit Stage(const char* progression, TradeChoice choice = {})
      : session_(test::setup_for(progression)), trading(3, trade::plain_densities()) {
    session_.start();
    trading.choose(choice);
  }

  /// Plays on to a tick.
  void play(Ticks to, const Answer& answer = exact) {
    for (; now < to; now += quarter / 4) {
      session_.advance(now);
      if (trading.advance(around()))
        called = trading.calls();
      obey();
      listen(answer);
    }
  }

  Trading::Around around() {
    snapshot.timeline = std::make_shared<const practice::Timeline>(session_.timeline());
    snapshot.song = std::make_shared<const song::Song>(session_.song());
    snapshot.choice = session_.latest_choice();
    snapshot.transport.rolling = true;
    Trading::Around around;
    around.snapshot = &snapshot;
    around.instrument = &guitar;
    around.feels = &feels;
    const auto last = std::ranges::upper_bound(notes, now, {}, &ear::HeardNote::on);
    around.player = std::span(notes.begin(), last);
    around.now = around.heard = now;
    return around;
  }

  void obey() {
    for (const auto& command : trading.take_commands())
      session_.apply(command, now + Ticks{1});
    for (auto& past : trading.take_settled())
      settled.push_back(std::move(past));
  }

  practice::Choice choice_at(Ticks tick) const { return session_.timeline().choice_at(tick); }
  theory::Key key_at(Ticks tick) const {
    return session_.timeline().performance.at(tick)->bar->key;
  }

private:
  void listen(const Answer& answer) {
    const auto* turn = trading.turn();
    if (turn == nullptr || turn->turn.number <= answered_ || now < turn->turn.opens())
      return;
    answered_ = turn->turn.number;
    seen.push_back(*turn);
    for (auto& note : answer(*turn))
      notes.push_back(note);
    std::ranges::stable_sort(notes, {}, &ear::HeardNote::on);
  }

  practice::Session session_;
  int answered_ = -1;

public:
  Trading trading;
  Snapshot snapshot;
  neck::Instrument guitar = neck::standard_guitar();
  test::PlainFeels feels;
  std::vector<ear::HeardNote> notes;
  std::vector<practice::TradeTurn> seen; ///< As they were when their answers opened.
  std::vector<PastTurn> settled;
  std::vector<midi::PlannedMessage> called;
  Ticks now = -test::bar; ///< In the count-in at first.
};

bool played_right(const PastTurn& past) {
  return past.verdict.match.count(ear::Fate::matched) ==
         static_cast<int>(past.turn.asked.notes.size());
}

} // namespace

TEST_CASE("turn follows turn, and an exact echo is all right in each") {
  Stage stage("A | A | D | E");
  stage.play(test::bar * 34);
  REQUIRE(stage.settled.size() >= 7);
  for (std::size_t i = 0; i < stage.settled.size(); ++i) {
    const auto& past = stage.settled[i];
    CHECK(past.turn.turn.number == static_cast<int>(i));
    CHECK(past.turn.turn.call == test::bar * (4 * static_cast<std::int64_t>(i)));
    CHECK(played_right(past));
    CHECK(past.verdict.answered);
    CHECK_FALSE(past.turn.call.notes.empty());
  }
  CHECK_FALSE(stage.called.empty());
  CHECK(stage.trading.summary().starts_with("last answer: all "));
}

TEST_CASE("an answer with a wrong note and a missing one is told so, and nobody's is none") {
  Stage stage("A | A | A | A");
  stage.play(test::bar * 8, [](const practice::TradeTurn& turn) {
    auto notes = exact(turn);
    notes.back().midi += 1;
    notes.erase(notes.begin());
    return notes;
  });
  stage.play(test::bar * 16, none);
  REQUIRE(stage.settled.size() >= 3);
  CHECK(stage.settled[0].verdict.match.count(ear::Fate::missing) == 1);
  CHECK(stage.settled[0].verdict.match.count(ear::Fate::wrong) == 1);
  CHECK_FALSE(stage.settled[2].verdict.answered);
}

TEST_CASE("an echo a fourth up takes the band along for its bars, and the hand stays") {
  TradeChoice choice;
  choice.echo = EchoPlace::next_key;
  Stage stage("A | A | D | E", choice);
  const auto home = practice::home_of(stage.guitar, {{theory::Letter::a}}, {});
  stage.play(test::bar * 18);
  REQUIRE(stage.seen.size() >= 3);
  for (std::size_t i = 0; i < 3; ++i) {
    const auto& turn = stage.seen[i];
    CHECK(ascii(stage.key_at(turn.turn.call)) == "A");
    CHECK(ascii(stage.key_at(turn.turn.answer)) == "D");
    CHECK(ascii(stage.key_at(turn.turn.end - Ticks{1})) == "D");
    CHECK(ascii(turn.asked.key) == "D");
    const auto there = stage.choice_at(turn.turn.answer);
    const auto hand = practice::home_of(stage.guitar, there.key, there.place);
    CHECK(std::abs(hand.low - home.low) <= 2);
    REQUIRE_FALSE(turn.asked.notes.empty());
    CHECK(played_right(stage.settled[std::min(i, stage.settled.size() - 1)]));
  }
}

TEST_CASE("an echo in the next place takes the board along and brings it back") {
  TradeChoice choice;
  choice.echo = EchoPlace::next_place;
  Stage stage("A | A | A | A", choice);
  const auto low = [&](Ticks tick) {
    const auto chosen = stage.choice_at(tick);
    return practice::home_of(stage.guitar, chosen.key, chosen.place).low;
  };
  stage.play(test::bar * 10);
  REQUIRE(stage.seen.size() >= 2);
  for (const auto& turn : stage.seen) {
    CHECK(low(turn.turn.answer) > low(turn.turn.call));
    CHECK(low(turn.turn.end - Ticks{1}) > low(turn.turn.call));
    for (const auto& note : turn.asked.notes)
      if (note.fret)
        CHECK(*note.fret >= low(turn.turn.answer) - 1);
  }
  CHECK(low(stage.seen[1].turn.call) == low(stage.seen[0].turn.call));
}

TEST_CASE("a phrase that is drilled goes on through the keys when it was answered well") {
  TradeChoice choice;
  choice.drill = Drill::keys;
  Stage stage("A | A | A | A", choice);
  const auto form = song::unroll(*song::parse_progression("A | A"));
  auto phrase = trade::blank_phrase(form, 1, 2);
  for (const int midi : {57, 61, 64}) {
    trade::PhraseNote note;
    note.start = quarter * static_cast<std::int64_t>(phrase.notes.size());
    note.length = quarter;
    note.midi = {midi};
    note.degree = trade::degree_over(phrase.chords[0].chord, phrase.key, note.midi);
    phrase.notes.push_back(note);
  }
  stage.trading.drill(phrase);
  stage.play(test::bar * 8 - quarter * 2);
  stage.play(test::bar * 12 - quarter * 2, none);
  stage.play(test::bar * 16);
  REQUIRE(stage.seen.size() >= 4);
  CHECK(ascii(stage.key_at(stage.seen[0].turn.call)) == "A");
  CHECK(ascii(stage.key_at(stage.seen[1].turn.call)) == "D"); // the first went well
  CHECK(ascii(stage.key_at(stage.seen[2].turn.call)) == "G");
  CHECK(ascii(stage.key_at(stage.seen[3].turn.call)) == "G"); // nobody answered
  for (const auto& turn : stage.seen) {
    REQUIRE(turn.call.notes.size() == 3);
    CHECK(ascii(turn.call.notes[1].degree) == "3");
  }
}

TEST_CASE("a phrase that is drilled goes on through the places") {
  TradeChoice choice;
  choice.drill = Drill::places;
  Stage stage("A | A | A | A", choice);
  stage.play(test::bar * 3);
  stage.trading.drill(stage.trading.turn()->call);
  stage.play(test::bar * 13);
  const auto low = [&](Ticks tick) {
    const auto chosen = stage.choice_at(tick);
    return practice::home_of(stage.guitar, chosen.key, chosen.place).low;
  };
  REQUIRE(stage.seen.size() >= 3);
  CHECK(low(stage.seen[1].turn.call) > low(stage.seen[0].turn.call));
  CHECK(low(stage.seen[2].turn.call) > low(stage.seen[1].turn.call));
}

TEST_CASE("the player may begin, and a turn may be left at the next bar line") {
  TradeChoice choice;
  choice.division.player_begins = true;
  Stage stage("A | A | A | A", choice);
  stage.play(test::bar * 1);
  REQUIRE(stage.trading.turn() != nullptr);
  CHECK_FALSE(stage.trading.turn()->turn.has_call());
  const auto before = stage.trading.turn()->turn;
  stage.play(test::bar * 3);
  CHECK(stage.trading.turn()->turn.has_call());
  CHECK(stage.trading.turn()->turn.call == before.end);
  const auto planned = stage.trading.turn()->turn.end;
  stage.trading.skip();
  stage.play(stage.now + quarter);
  CHECK(stage.trading.turn()->turn.end < planned);
  CHECK(stage.trading.shown_to() == planned);
}

TEST_CASE("a turn that is left before its answer may go over to calls from an instrument") {
  for (const auto left : {-quarter, quarter, test::bar, test::bar + quarter * 3}) {
    Stage stage("A | A | D | E");
    stage.play(left);
    stage.trading.skip();
    TradeChoice choice;
    choice.teacher = true;
    stage.trading.choose(choice);
    stage.play(test::bar * 17);
    CHECK(stage.settled.size() >= 3);
  }
}

TEST_CASE("when the performance ends, turns that are over are judged and the rest is left") {
  Stage stage("A | A | A | A");
  stage.play(test::bar * 9);
  stage.trading.end(stage.around());
  stage.obey();
  CHECK(stage.settled.size() == 2);
  CHECK(stage.trading.turn() == nullptr);
}

TEST_CASE("half speed takes twice the bars, easier fewer notes, again the same") {
  Stage stage("A | A | A | A");
  stage.play(test::bar * 2);
  stage.trading.again();
  stage.play(test::bar * 6);
  stage.trading.half_speed();
  stage.play(test::bar * 10);
  stage.trading.easier();
  stage.play(test::bar * 22);
  REQUIRE(stage.seen.size() >= 4);
  CHECK(stage.seen[1].call.notes == stage.seen[0].call.notes);
  CHECK(stage.seen[2].call.bars == 4);
  CHECK(stage.seen[2].call.notes.size() == stage.seen[0].call.notes.size());
  CHECK(stage.seen[3].call.notes.size() < stage.seen[0].call.notes.size());
}

TEST_CASE("a turn that a take keeps comes back as it was") {
  Stage stage("A7 | D7 | Bm7b5 E7 | N.C.");
  stage.play(test::bar * 18);
  REQUIRE(stage.settled.size() >= 3);
  for (const auto& past : stage.settled) {
    const auto text = json_of(past.turn).dump();
    const auto back = turn_from(nlohmann::ordered_json::parse(text));
    REQUIRE(back);
    CHECK(*back == past.turn);
  }
}

TEST_CASE("what is no turn is none, whatever is wrong with it") {
  Stage stage("A7 | D7");
  stage.play(test::bar * 6);
  REQUIRE_FALSE(stage.settled.empty());
  const auto good = json_of(stage.settled[0].turn).dump();
  std::size_t read = 0;
  for (std::uint64_t seed = 0; seed < 3000; ++seed) {
    auto text = good;
    for (std::uint64_t change = 0; change < 1 + seed % 3; ++change)
      text[drawn({seed, change}) % text.size()] =
          static_cast<char>(' ' + static_cast<char>(drawn({seed, change, 7}) % 90));
    const auto json = nlohmann::ordered_json::parse(text, nullptr, false);
    if (const auto turn = turn_from(json)) {
      ++read;
      const auto verdict = practice::final_verdict(*turn, stage.notes, {}, Tempo{});
      CHECK(verdict.match.notes.size() <= turn->asked.notes.size());
    }
  }
  CHECK(read > 0);
}
