#include "practice/ground.hpp"
#include "practice/hand.hpp"
#include "practice/sample_session.hpp"
#include "song/changes.hpp"

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

namespace {

const neck::Instrument guitar = neck::standard_guitar();
const GroundBuilder::Given given{&guitar, nullptr, nullptr};

bool equal(const ear::Ground& a, const ear::Ground& b) {
  if (a.spans.size() != b.spans.size() || a.changes.size() != b.changes.size() ||
      a.tempo.changes() != b.tempo.changes())
    return false;
  for (std::size_t i = 0; i < a.spans.size(); ++i)
    if (a.spans[i].from != b.spans[i].from || a.spans[i].to != b.spans[i].to ||
        a.spans[i].chord != b.spans[i].chord || a.spans[i].set != b.spans[i].set ||
        a.spans[i].reachable != b.spans[i].reachable || a.spans[i].aimed != b.spans[i].aimed)
      return false;
  for (std::size_t i = 0; i < a.changes.size(); ++i)
    if (a.changes[i].at != b.changes[i].at || a.changes[i].span != b.changes[i].span ||
        a.changes[i].bar != b.changes[i].bar || a.changes[i].chorus != b.changes[i].chorus)
      return false;
  return true;
}

/// Plays with commands at odd moments.
Session busy_session() {
  Session session(setup_for("A | D A | E7 | N.C. | Am | Am | Am | Am | Am | E"));
  session.start();
  session.advance({});
  session.apply(SetKey{theory::parse_key("Eb").value()}, bar * 3 + Ticks{77});
  session.advance(bar * 3);
  session.apply(SetTempo{tempo_from_bpm(91.0)}, bar * 5 + Ticks{1000});
  session.apply(SetTarget{neck::parse_target("thirds").value()}, bar * 7 + Ticks{500});
  session.apply(SetLoop{BarRange{2, 3}}, bar * 12 + Ticks{10});
  session.advance(bar * 20);
  session.apply(SetNotes{theory::parse_note_set("minor pentatonic").value(), theory::Over::key},
                bar * 21 + Ticks{700});
  session.advance(bar * 30);
  return session;
}

} // namespace

TEST_CASE("the changes of a loop are those of its form, chorus by chorus") {
  Session session(setup_for("A | A | A | A | A | D E | N.C. | E"));
  session.start();
  session.advance(bar * 30);
  const auto ground = ground_of(session.timeline(), given, bar * 24);
  const auto& form = *session.timeline().performance.stretches().front().form;
  const auto one = song::changes(form);
  REQUIRE(ground.changes.size() == one.size() * 3);
  for (std::size_t i = 0; i < ground.changes.size(); ++i) {
    const auto& expected = one[i % one.size()];
    const int chorus = static_cast<int>(i / one.size());
    CHECK(ground.changes[i].at == form.length * chorus + expected.tick);
    CHECK(ground.changes[i].bar == expected.bar);
    CHECK(ground.changes[i].beat == doctest::Approx(expected.beat));
    CHECK(ground.changes[i].chorus == chorus);
    CHECK(ground.spans[ground.changes[i].span].chord == expected.chord);
  }
}

TEST_CASE("spans follow each other, and the hand and the set lie in them") {
  auto session = busy_session();
  const auto ground = ground_of(session.timeline(), given, bar * 28);
  REQUIRE(!ground.spans.empty());
  CHECK(ground.spans.front().from == Ticks{});
  CHECK(ground.spans.back().to == bar * 28);
  for (std::size_t i = 1; i < ground.spans.size(); ++i)
    CHECK(ground.spans[i].from == ground.spans[i - 1].to);
  for (const auto& span : ground.spans) {
    CHECK(span.set != 0);
    CHECK(span.reachable.count() >= 20);
    CHECK((span.aimed == 0) == !span.chord);
  }
  CHECK(ground.span_at(bar * 28) == nullptr);
  CHECK(ground.span_at(-Ticks{1}) == nullptr);
  CHECK(ground.open_strings == std::vector<int>{64, 59, 55, 50, 45, 40});
}

TEST_CASE("a ground built piece by piece is the ground built at once") {
  auto session = busy_session();
  const auto whole = ground_of(session.timeline(), given, bar * 26);
  for (const std::int64_t step : {17, 241, 960, 3001, 3840, 9999}) {
    GroundBuilder builder(given);
    for (Ticks until; until < bar * 26; until += Ticks{step})
      builder.extend(session.timeline(), std::min(until, bar * 26));
    builder.extend(session.timeline(), bar * 26);
    CHECK_MESSAGE(equal(builder.ground(), whole), "step " << step);
  }
}

TEST_CASE("with a target only its degrees are aimed at") {
  auto setup = setup_for("A7 | A7 | A7 | A7");
  setup.choice.target = neck::parse_target("3 7").value();
  Session session(setup);
  session.start();
  session.advance(bar * 4);
  const auto ground = ground_of(session.timeline(), given, bar * 4);
  CHECK(ground.spans.front().aimed == ((1U << 1U) | (1U << 7U))); // C sharp and G
}

TEST_CASE("with the guide line one tone of each chord is aimed at, the line's") {
  auto setup = setup_for("Dm7 | G7 | Cmaj7 | A7");
  setup.choice.target = neck::parse_target("guide line").value();
  Session session(setup);
  session.start();
  session.advance(bar * 4);
  const auto ground = ground_of(session.timeline(), given, bar * 4);
  const auto& form = *session.timeline().performance.stretches().front().form;
  neck::Setting setting;
  setting.instrument = &guitar;
  setting.key = setup.choice.key;
  setting.set = setup.choice.set;
  setting.over = setup.choice.over;
  setting.home = home_of(guitar, setting.key, setup.choice.place);
  std::vector<std::optional<theory::Chord>> chords;
  for (const auto& each : form.bars)
    chords.push_back(each.chords.front().chord);
  const auto line = neck::guide_line(setting, chords);
  REQUIRE(ground.spans.size() == 4);
  for (std::size_t i = 0; i < 4; ++i)
    CHECK(ground.spans[i].aimed == 1U << static_cast<unsigned>(line[i]->midi.number % 12));
}

TEST_CASE("a key that changes within the song has its own set") {
  auto setup = setup_for("C | C");
  const auto song = song::parse_song("key: C\n\n| C | C |\nkey: Eb\n| Eb | Eb |\n");
  REQUIRE(song);
  setup.song = std::make_shared<const song::Song>(*song);
  setup.choice.key = song->key;
  setup.choice.set = theory::parse_note_set("major").value();
  setup.choice.over = theory::Over::key;
  Session session(setup);
  session.start();
  session.advance(bar * 4);
  const auto ground = ground_of(session.timeline(), given, bar * 4);
  CHECK(neck::has(ground.span_at(Ticks{})->set, 64));
  CHECK_FALSE(neck::has(ground.span_at(Ticks{})->set, 63));
  CHECK(neck::has(ground.span_at(bar * 2)->set, 63));
  CHECK_FALSE(neck::has(ground.span_at(bar * 2)->set, 64));
}

TEST_CASE("on a keyboard the hand's span is reachable, and no string is known") {
  const auto keyboard = neck::standard_keyboard();
  Session session(setup_for("C | F"));
  session.start();
  session.advance(bar * 2);
  const auto ground = ground_of(session.timeline(), {&keyboard, nullptr, nullptr}, bar * 2);
  CHECK(ground.open_strings.empty());
  CHECK(ground.spans.front().reachable.count() == 17); // a tenth
}

TEST_CASE("the tempi are those of the timeline") {
  auto session = busy_session();
  const auto& timeline = session.timeline();
  const auto ground = ground_of(timeline, given, bar * 26);
  for (Ticks at; at < bar * 26; at += Ticks{480})
    CHECK(ground.tempo.tempo_at(at) == timeline.tempo_at(at));
}
