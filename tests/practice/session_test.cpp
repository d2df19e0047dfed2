#include "practice/sample_session.hpp"

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

TEST_CASE("a session counts in, then loops without a gap for as long as one likes") {
  Session session(setup_for("A | D | E | A"));
  session.start();
  const auto plans = play(session, -bar, bar * 40);
  REQUIRE(plans.size() > 10);
  CHECK(plans[0].from == -bar);
  CHECK(plans[0].to == Ticks{});
  CHECK(plans[0].events.size() >= 4);
  for (std::size_t i = 1; i < plans.size(); ++i) {
    CHECK(plans[i].from == plans[i - 1].to);
    CHECK(plans[i].to - plans[i].from == bar * 4);
  }
}

TEST_CASE("the same chorus is planned the same, only later") {
  auto setup = setup_for("A | D | E | A");
  setup.choruses = 1;
  Session once(setup);
  once.start();
  const auto first = play(once, -bar, bar * 8);
  Session again(setup);
  again.start();
  CHECK(played(first) == played(play(again, -bar, bar * 8)));
  CHECK(once.last_tick() == bar * 4);
  setup.seed = 99;
}

TEST_CASE("every plan is there before its first note is due") {
  Session session(setup_for("| A |"));
  session.start();
  session.take_plans();
  for (Ticks now; now < bar * 30; now += {480}) {
    session.advance(now);
    for (const auto& plan : session.take_plans())
      for (const auto& event : plan.events)
        CHECK(event.at > now + bar / 2);
  }
}

TEST_CASE("a key change takes hold at the next bar line and keeps the place in the form") {
  Session session(setup_for("A | D | E | A"));
  session.start();
  session.take_plans();
  const auto key = theory::parse_key("Eb").value();
  session.apply(SetKey{key}, bar + Ticks{10});
  const auto& timeline = session.timeline();
  CHECK(timeline.applied.at(0).at == bar * 2);
  CHECK(timeline.choice_at(bar * 2).key == key);
  CHECK(ascii(timeline.choice_at(bar * 2 - Ticks{1}).key) == "A");
  const auto moment = timeline.performance.at(bar * 2);
  REQUIRE(moment);
  CHECK(moment->bar->number == 3);
  CHECK(ascii(*moment->bar->chords[0].chord) == "Bb");
  CHECK(ascii(*timeline.performance.at(bar)->bar->chords[0].chord) == "D");
  CHECK(moment->stretch->chorus == 0);
  CHECK(timeline.performance.at(bar * 4)->stretch->chorus == 1);
  const auto plans = session.take_plans();
  REQUIRE(!plans.empty());
  CHECK(plans.front().from == bar * 2);
  CHECK(plans.front().to == bar * 4);
}

TEST_CASE("a loop comes round exactly and lets go again") {
  Session session(setup_for("A | D | E | A | D | E"));
  session.start();
  session.apply(SetLoop{BarRange{2, 3}}, bar + Ticks{1});
  const auto number = [&](int index) {
    return session.timeline().performance.at(bar * index)->bar->number;
  };
  // the next bar line is bar 3, inside the loop
  CHECK(number(1) == 2);
  CHECK(number(2) == 3);
  CHECK(number(3) == 2);
  CHECK(number(4) == 3);
  CHECK(number(5) == 2);
  session.apply(SetLoop{std::nullopt}, bar * 4 + Ticks{1});
  CHECK(number(4) == 3);
  CHECK(number(5) == 2);
  CHECK(number(6) == 3);
  CHECK(number(7) == 4);
}

TEST_CASE("a loop set elsewhere is entered at the next bar") {
  Session session(setup_for("A | D | E | A | D | E"));
  session.start();
  session.apply(SetLoop{BarRange{5, 6}}, Ticks{1});
  CHECK(session.timeline().performance.at(bar)->bar->number == 5);
}

TEST_CASE("tempo changes on the next beat; place and set at the next bar; mutes at once") {
  Session session(setup_for("A | D | E | A"));
  session.start();
  session.apply(SetTempo{tempo_from_bpm(90)}, Ticks{961});
  session.apply(SetPlace{{'C', std::nullopt}}, Ticks{961});
  session.apply(SetMuted{band::Part::bass, true}, Ticks{961});
  const auto& timeline = session.timeline();
  CHECK(timeline.tempo_at({1919}) == tempo_from_bpm(120));
  CHECK(timeline.tempo_at({1920}) == tempo_from_bpm(90));
  REQUIRE(timeline.applied.size() == 3);
  CHECK(timeline.applied[0].at == Ticks{961});
  CHECK(timeline.applied[1].at == Ticks{1920});
  CHECK(timeline.applied[2].at == bar);
  CHECK(timeline.choice_at({961}).muted[static_cast<std::size_t>(band::Part::bass)]);
  CHECK(timeline.choice_at(bar).place.shape == 'C');
  CHECK(timeline.choice_at(bar - Ticks{1}).place.shape != 'C');
}

TEST_CASE("tempi written in the song come round each chorus, in proportion to the player's") {
  Session session(setup_for("A | D\ntempo: 60\n| E | A"));
  session.start();
  const auto& timeline = session.timeline();
  const auto bpm_at = [&](Ticks tick) { return std::lround(bpm(timeline.tempo_at(tick))); };
  CHECK(bpm_at({0}) == 120);
  CHECK(bpm_at(bar * 2) == 60);
  CHECK(bpm_at(bar * 4) == 120);
  CHECK(bpm_at(bar * 6) == 60);
  session.apply(SetTempo{tempo_from_bpm(60)}, Ticks{10});
  CHECK(bpm_at({0}) == 120);
  CHECK(bpm_at({960}) == 60);
  CHECK(bpm_at(bar * 2) == 30);
  CHECK(bpm_at(bar * 4) == 60);
}

TEST_CASE("what is chosen before the start holds from the start") {
  Session session(setup_for("key: A\n| A | D |"));
  session.apply(SetKey{theory::parse_key("C").value()}, {});
  CHECK(ascii(*session.timeline().performance.at({})->bar->chords[0].chord) == "C");
  session.start();
  CHECK(ascii(*session.timeline().performance.at({})->bar->chords[0].chord) == "C");
  CHECK(session.timeline().applied.empty());
}

TEST_CASE("hours of changes keep the timeline whole") {
  Session session(setup_for("A | D | E7 | A"));
  session.start();
  std::uint64_t random = 5;
  const auto roll = [&](std::uint64_t sides) {
    random = random * 6364136223846793005ULL + 1442695040888963407ULL;
    return (random >> 33U) % sides;
  };
  for (Ticks now; now < bar * 2000; now += {static_cast<std::int64_t>(500 + roll(9000))}) {
    session.advance(now);
    if (roll(3) == 0)
      session.apply(SetKey{transposed(theory::Key{}, static_cast<int>(roll(12)))}, now + Ticks{60});
    if (roll(4) == 0)
      session.apply(SetLoop{BarRange{static_cast<int>(1 + roll(4)), static_cast<int>(1 + roll(4))}},
                    now + Ticks{60});
    if (roll(5) == 0)
      session.apply(SetLoop{std::nullopt}, now + Ticks{60});
    for (const auto& plan : session.take_plans())
      CHECK(plan.from < plan.to);
    CHECK(session.timeline().performance.end() >= now + bar * 16);
  }
  Ticks end;
  for (const auto& stretch : session.timeline().performance.stretches()) {
    CHECK(stretch.start == end);
    CHECK(stretch.to > stretch.from);
    end = stretch.end();
  }
}

TEST_CASE("after a stop the timeline is that of the next start, as everything is chosen now") {
  Session session(setup_for("A | D | E | A"));
  session.start();
  session.apply(SetKey{theory::parse_key("Eb").value()}, bar + Ticks{1});
  session.stop();
  CHECK_FALSE(session.started());
  CHECK(ascii(*session.timeline().performance.at({})->bar->chords[0].chord) == "Eb");
  CHECK(session.timeline().applied.empty());
}
