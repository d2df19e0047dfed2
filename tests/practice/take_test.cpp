#include "practice/command_text.hpp"
#include "practice/ground.hpp"
#include "practice/sample_session.hpp"
#include "practice/take.hpp"

#include <random>

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

namespace {

theory::Key key(const char* name) {
  return theory::parse_key(name).value();
}

/// One of every kind of command, with values from a seed.
Command any_command(std::mt19937& random) {
  const auto pick = [&](int low, int high) {
    return std::uniform_int_distribution<int>(low, high)(random);
  };
  constexpr std::array keys{"A", "Eb", "F#", "C", "Bb"};
  constexpr std::array sets{"minor pentatonic", "arpeggio", "fitting", "1 b3 4 #4 5", "dorian"};
  constexpr std::array targets{"all", "thirds", "3 7", "guide line"};
  Arrangement arrangement{Click::backbeats, {2, 4, false}, true, true, {40, 60, 80, 120}};
  const std::vector<Command> all{
      SetKey{key(keys[static_cast<std::size_t>(pick(0, 4))])},
      SetPlace{{"CAGED"[pick(0, 4)], pick(0, 1) ? std::optional(pick(0, 15)) : std::nullopt}},
      SetPlace{{std::nullopt, pick(0, 12)}},
      SetPlace{},
      SetNotes{theory::parse_note_set(sets[static_cast<std::size_t>(pick(0, 4))]).value(),
               pick(0, 1) ? theory::Over::key : theory::Over::chord},
      SetTarget{neck::parse_target(targets[static_cast<std::size_t>(pick(0, 3))]).value()},
      SetTempo{tempo_from_bpm(pick(40, 240))},
      SetFeel{pick(0, 1) ? "shuffle" : ""},
      SetLoop{pick(0, 2) ? std::optional(BarRange{pick(1, 4), pick(1, 4)}) : std::nullopt},
      SetMuted{band::Part::bass, pick(0, 1) == 1},
      SetIntensity{pick(0, 100) / 100.0},
      SetArrangement{arrangement},
      SetCountIn{pick(0, 2)},
      SetKeyMoves{{pick(0, 3), pick(-5, 5), {key("A"), key("D")}, nullptr}},
      SetKeyMoves{{1, 5, {}, nullptr}},
      SetTempoMoves{{tempo_from_bpm(80), tempo_from_bpm(120), pick(0, 4)}},
  };
  return all[static_cast<std::size_t>(pick(0, static_cast<int>(all.size()) - 1))];
}

/// Plays for 40 bars with commands at odd moments.
TakeHead wild_take(std::uint32_t seed) {
  std::mt19937 random(seed);
  auto setup = setup_for("A | D A | E7 | Bm7b5 E7 | N.C. | F#m");
  Session session(setup);
  if (seed % 2 == 0)
    session.apply(any_command(random), {});
  session.start();
  Ticks now;
  for (int step = 0; step < 40; ++step) {
    now += {std::uniform_int_distribution<int>(100, 7000)(random)};
    session.advance(now);
    if (step % 2 == 0)
      session.apply(any_command(random), now + Ticks{30});
  }
  if (seed % 3 == 0)
    session.apply(End{}, now + Ticks{30});
  session.advance(now + bar * 4);
  return {setup.song, session.timeline(), seed, -session.timeline().count_in, now + bar * 2};
}

void check_equal(const Timeline& a, const Timeline& b, Ticks to) {
  CHECK(a.count_in == b.count_in);
  CHECK(a.tempi == b.tempi);
  CHECK(command_text(SetNotes{a.first.set, a.first.over}) ==
        command_text(SetNotes{b.first.set, b.first.over}));
  REQUIRE(a.applied.size() == b.applied.size());
  for (std::size_t i = 0; i < a.applied.size(); ++i) {
    CHECK(a.applied[i].at == b.applied[i].at);
    CHECK(a.applied[i].by_itself == b.applied[i].by_itself);
    CHECK(command_text(a.applied[i].command) == command_text(b.applied[i].command));
  }
  std::size_t played = 0;
  for (const auto& stretch : a.performance.stretches())
    played += stretch.start < to ? 1 : 0;
  REQUIRE(b.performance.stretches().size() == played);
  for (std::size_t i = 0; i < played; ++i) {
    const auto& one = a.performance.stretches()[i];
    const auto& other = b.performance.stretches()[i];
    CHECK(one.start == other.start);
    CHECK(one.chorus == other.chorus);
    CHECK(one.from == other.from);
    CHECK(one.to == other.to);
    REQUIRE(one.form->bars.size() == other.form->bars.size());
    for (std::size_t k = 0; k < one.form->bars.size(); ++k) {
      CHECK(one.form->bars[k].chords == other.form->bars[k].chords);
      CHECK(one.form->bars[k].feel == other.form->bars[k].feel);
    }
  }
}

} // namespace

TEST_CASE("every command reads back as itself") {
  std::mt19937 random(7);
  for (int i = 0; i < 2000; ++i) {
    const auto command = any_command(random);
    const auto text = command_text(command);
    const auto read = read_command(text);
    REQUIRE_MESSAGE(read, text);
    CHECK(command_text(*read) == text);
    CHECK(read->index() == command.index());
  }
  CHECK(command_text(*read_command("end")) == "end");
}

TEST_CASE("a choice is made anew by its commands") {
  Choice choice;
  choice.key = key("F#m");
  choice.place = {'C', 12};
  choice.set = theory::parse_note_set("1 b3 4 5").value();
  choice.target = neck::parse_target("guide line").value();
  choice.loop = BarRange{2, 5};
  choice.muted[1] = true;
  choice.intensity = 0.123456789;
  choice.tempo_moves = {tempo_from_bpm(80), tempo_from_bpm(100), 3};
  choice.tempo = tempo_from_bpm(93);
  choice.arrangement.level[2] = 60;
  Choice made;
  for (const auto& command : commands_for(choice))
    made = with(std::move(made), read_command(command_text(command)).value());
  CHECK(made == choice);
}

TEST_CASE("what is no command is refused") {
  for (const auto* line : {"", "dance", "key", "key H", "tempo", "tempo -5", "tempo 500000 7",
                           "place shape Q", "place fret x", "set over there fixed degrees 1 name x",
                           "set over key fixed degrees name x", "loop 3", "mute 9 1", "intensity 2",
                           "arrangement 1 2", "end now"})
    CHECK_MESSAGE(!read_command(line), line);
}

TEST_CASE("a take's head reads back as the timeline that was performed") {
  for (std::uint32_t seed = 1; seed <= 24; ++seed) {
    const auto head = wild_take(seed);
    const auto text = as_text(head);
    const auto read = read_take_head(text);
    REQUIRE_MESSAGE(read, (read ? "" : read.error().reason)
                              << " in line " << (read ? 0 : read.error().line));
    CHECK(*read->song == *head.song);
    CHECK(read->seed == head.seed);
    CHECK(read->from == head.from);
    CHECK(read->to == head.to);
    check_equal(head.timeline, read->timeline, head.to);
    CHECK(as_text(*read) == text);
  }
}

TEST_CASE("the ear stands on the same ground again") {
  const auto guitar = neck::standard_guitar();
  for (std::uint32_t seed = 1; seed <= 8; ++seed) {
    const auto head = wild_take(seed);
    const auto read = read_take_head(as_text(head)).value();
    const auto was = ground_of(head.timeline, {&guitar}, head.to);
    const auto is = ground_of(read.timeline, {&guitar}, head.to);
    REQUIRE(was.changes.size() == is.changes.size());
    REQUIRE(was.spans.size() == is.spans.size());
    for (std::size_t i = 0; i < was.changes.size(); ++i)
      CHECK(was.changes[i].at == is.changes[i].at);
    for (std::size_t i = 0; i < was.spans.size(); ++i) {
      CHECK(was.spans[i].set == is.spans[i].set);
      CHECK(was.spans[i].aimed == is.spans[i].aimed);
      CHECK(was.spans[i].reachable == is.spans[i].reachable);
    }
  }
}

TEST_CASE("a damaged head is refused with its place") {
  const auto text = as_text(wild_take(3));
  CHECK(read_take_head("").error().reason == "expected `landfall take 1`");
  CHECK(read_take_head("landfall take 1\nseed: 1\n").error().reason.find("song:") !=
        std::string::npos);
  auto broken = text;
  broken.replace(broken.find("count-in: "), 10, "count-in: x");
  CHECK(read_take_head(broken).error().line == 4);
  broken = text;
  broken.replace(broken.find("stretch: 0 "), 11, "stretch: 5 ");
  CHECK_FALSE(read_take_head(broken));
}
