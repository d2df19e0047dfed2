#include "practice/sample_session.hpp"

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

TEST_CASE("an ending begins at the next bar line, takes two bars, comes home and is the last") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    auto setup = setup_for("A | D | E | A | F#m | Bm | E7 | E7");
    setup.seed = seed;
    Session session(setup);
    session.start();
    auto plans = play(session, -bar, bar * 30);
    const Ticks soonest =
        bar * static_cast<std::int64_t>(seed) + Ticks{1 + 170 * static_cast<std::int64_t>(seed)};
    const Ticks line = session.timeline().performance.bar_line_from(soonest);
    Session again(setup);
    again.start();
    plans = play(again, -bar, soonest);
    again.apply(End{}, soonest);
    append(plans, again.take_plans());
    CAPTURE(seed);
    REQUIRE(again.last_tick() == line + bar * 2);
    CHECK(again.ending());
    const auto last = again.timeline().performance.at(line + bar);
    REQUIRE(last);
    CHECK(ascii(*last->bar->chords.at(0).chord) == "A");
    CHECK(again.timeline().applied.back().at == line);
    append(plans, play(again, soonest, line + bar * 8));
    const auto events = played(plans);
    REQUIRE(!events.empty());
    bool bass_home = false;
    for (const auto& event : events) {
      CHECK(event.at + event.length <= line + bar * 2);
      if (event.part == band::Part::bass && event.at == line + bar)
        bass_home = pitch_class(event.note) == 9;
    }
    CHECK(bass_home);
    // a groove would strike the drums again after the last bar's first beat
    CHECK(std::none_of(events.begin(), events.end(), [&](const auto& event) {
      return event.part == band::Part::drums && event.at > line + bar;
    }));
  }
}

TEST_CASE("nothing that is chosen during an ending brings the band back") {
  Session session(setup_for("A | D | E | A"));
  session.start();
  session.apply(End{}, bar + Ticks{1});
  const auto last = session.last_tick();
  REQUIRE(last == bar * 4);
  session.apply(SetKey{theory::parse_key("C").value()}, bar * 2 + Ticks{1});
  session.apply(SetLoop{BarRange{1, 2}}, bar * 2 + Ticks{1});
  session.apply(SetIntensity{1.0}, bar * 2 + Ticks{1});
  session.apply(SetTempo{tempo_from_bpm(90)}, bar * 2 + Ticks{1});
  session.apply(End{}, bar * 2 + Ticks{1});
  session.advance(bar * 3);
  CHECK(session.last_tick() == last);
  CHECK(session.timeline().tempo_at(bar * 3) == tempo_from_bpm(90));
}

TEST_CASE("an ending in the count-in plays two bars; the next start goes on for ever") {
  Session session(setup_for("A | D | E | A"));
  session.start();
  session.apply(End{}, Ticks{-100});
  CHECK(session.last_tick() == bar * 2);
  session.stop();
  CHECK_FALSE(session.ending());
  session.apply(End{}, {});
  session.start();
  CHECK_FALSE(session.last_tick());
}
