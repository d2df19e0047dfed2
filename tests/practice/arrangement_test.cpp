#include "band/finish.hpp"
#include "practice/sample_session.hpp"
#include "practice/shaping.hpp"

#include <cstdlib>
#include <map>

using namespace landfall;
using namespace landfall::practice;
using namespace landfall::test;

namespace {

constexpr const char* eight_bars = "A | D | E | A | F#m | Bm | E7 | E7";

/// Sixteen bars and more, with this arrangement from the start.
std::vector<band::Event> played_with(const Arrangement& arrangement, std::uint64_t seed = 1) {
  auto setup = setup_for(eight_bars);
  setup.seed = seed;
  setup.choice.arrangement = arrangement;
  Session session(setup);
  session.start();
  auto events = played(play(session, -bar, bar * 16));
  std::erase_if(events,
                [](const auto& event) { return event.at < Ticks{} || event.at >= bar * 16; });
  return events;
}

bool of_band(const band::Event& event) {
  return event.part != band::Part::click;
}

std::map<std::int64_t, int> clicks(const std::vector<band::Event>& events) {
  std::map<std::int64_t, int> at;
  for (const auto& event : events)
    if (!of_band(event))
      ++at[event.at.count];
  return at;
}

} // namespace

TEST_CASE("the band rests for so many bars of every so many, and is unchanged between") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed)
    for (const auto& [bars, of] :
         {std::pair{1, 4}, std::pair{2, 4}, std::pair{2, 8}, std::pair{3, 5}}) {
      Arrangement arrangement;
      arrangement.drop_outs = {bars, of, false};
      const auto plain = played_with({}, seed);
      const auto rested = played_with(arrangement, seed);
      CHECK(rested.size() < plain.size());
      for (const auto& event : rested) {
        const auto index = static_cast<int>(event.at.count / bar.count);
        const auto end = bar * (index + 1);
        if (rests(arrangement.drop_outs, index))
          CHECK(event.at + event.length > end); // it leads into the next bar
        else if (rests(arrangement.drop_outs, index + 1))
          CHECK(event.at + event.length <= end);
      }
      for (const auto& event : plain)
        if (!rests(arrangement.drop_outs, static_cast<int>(event.at.count / bar.count)))
          CHECK(std::any_of(rested.begin(), rested.end(), [&](const auto& other) {
            return other.at == event.at && other.note.number == event.note.number &&
                   other.velocity == event.velocity;
          }));
    }
}

TEST_CASE("the click is on every beat, on two and four, in the rests alone, or nowhere") {
  Arrangement arrangement;
  CHECK(clicks(played_with(arrangement)).empty());
  arrangement.click = Click::beats;
  const auto all = clicks(played_with(arrangement));
  CHECK(all.size() == 64);
  for (const auto& [at, count] : all) {
    CHECK(at % 960 == 0);
    CHECK(count == 1);
  }
  arrangement.click = Click::backbeats;
  const auto some = clicks(played_with(arrangement));
  CHECK(some.size() == 32);
  for (const auto& [at, count] : some)
    CHECK(at % 1920 == 960);
  arrangement.click = Click::off;
  arrangement.drop_outs = {1, 4, true};
  const auto resting = clicks(played_with(arrangement));
  CHECK(resting.size() == 16);
  for (const auto& [at, count] : resting)
    CHECK(at / bar.count % 4 == 3);
  arrangement.drop_outs.click = false;
  arrangement.click = Click::beats;
  CHECK(clicks(played_with(arrangement)).size() == 48);
}

TEST_CASE("a drone holds the tonic and fifth of the key without a gap, and nothing else") {
  Arrangement arrangement;
  arrangement.drone = true;
  const auto events = played_with(arrangement);
  REQUIRE(!events.empty());
  Ticks sounding;
  for (const auto& event : events) {
    const int pitch = pitch_class(event.note);
    CHECK((pitch == 9 || pitch == 4));
    CHECK(event.at <= sounding);
    sounding = std::max(sounding, event.at + event.length);
  }
  CHECK(sounding == bar * 16);
}

TEST_CASE("a level scales the velocities of its part and leaves the others alone") {
  for (const int percent : level_steps) {
    Arrangement arrangement;
    arrangement.level[static_cast<std::size_t>(band::Part::bass)] = percent;
    const auto plain = played_with({});
    const auto scaled = played_with(arrangement);
    REQUIRE(plain.size() == scaled.size());
    for (std::size_t i = 0; i < plain.size(); ++i) {
      const int expected = plain[i].part == band::Part::bass
                               ? std::min(127, (plain[i].velocity * percent + 50) / 100)
                               : plain[i].velocity;
      CHECK(scaled[i].velocity == expected);
    }
  }
}

TEST_CASE("humanised playing moves every note a little, loses none, and repeats from its seed") {
  Arrangement arrangement;
  arrangement.humanised = true;
  const auto loose =
      band::loosest(*Session(setup_for(eight_bars)).timeline().performance.at({})->stretch->form);
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto plain = played_with({}, seed);
    const auto moved = played_with(arrangement, seed);
    CHECK(moved == played_with(arrangement, seed));
    CHECK_FALSE(moved == plain);
    std::size_t found = 0;
    for (const auto& event : plain)
      found += std::any_of(moved.begin(), moved.end(), [&](const auto& other) {
        return other.part == event.part && other.note.number == event.note.number &&
               std::abs(other.at.count - event.at.count) <= loose.count;
      });
    // what falls a hair before the last bar line is outside the sixteen bars
    CHECK(found == plain.size());
  }
}

TEST_CASE("another arrangement holds from the next bar line on and changes nothing before") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto run = [&](bool changes) {
      auto setup = setup_for(eight_bars);
      setup.seed = seed;
      Session session(setup);
      session.start();
      auto plans = play(session, -bar, bar * 5);
      Arrangement arrangement;
      arrangement.click = Click::beats;
      arrangement.level.fill(60);
      if (changes)
        session.apply(SetArrangement{arrangement}, bar * 5 + Ticks{10});
      append(plans, play(session, bar * 5, bar * 12));
      return played(plans);
    };
    const auto before = run(false), after = run(true);
    CHECK_FALSE(before == after);
    const auto until = [](std::vector<band::Event> events) {
      std::erase_if(events, [](const auto& event) { return event.at >= bar * 6; });
      return events;
    };
    CHECK(until(before) == until(after));
    const auto found = clicks(after);
    for (int beat = 24; beat < 40; ++beat)
      CHECK(found.contains(beat * 960));
  }
}

TEST_CASE("drums are muted by the plan at once, and the click goes on") {
  auto setup = setup_for(eight_bars);
  setup.choice.arrangement.click = Click::beats;
  Session session(setup);
  session.start();
  auto plans = play(session, -bar, bar * 2);
  session.apply(SetMuted{band::Part::drums, true}, bar * 2 + Ticks{100});
  append(plans, session.take_plans());
  append(plans, play(session, bar * 2, bar * 10));
  int drums_before = 0;
  for (const auto& event : played(plans)) {
    CHECK_FALSE((event.part == band::Part::drums && event.at >= bar * 2 + Ticks{100}));
    drums_before += event.part == band::Part::drums;
  }
  CHECK(drums_before > 0);
  CHECK(clicks(played(plans)).contains(bar.count * 4));
}

TEST_CASE("the count-in has as many bars as chosen, from the next start on") {
  Session session(setup_for(eight_bars));
  session.start();
  CHECK(session.timeline().count_in == bar);
  session.apply(SetCountIn{2}, bar);
  CHECK(session.timeline().count_in == bar);
  session.stop();
  session.start();
  CHECK(session.timeline().count_in == bar * 2);
  const auto plans = session.take_plans();
  CHECK(plans.at(0).from == -(bar * 2));
  CHECK(plans.at(0).events.front().at < -bar);
}

TEST_CASE("the last of so many choruses closes the song where that is asked for") {
  auto setup = setup_for(eight_bars);
  setup.choruses = 2;
  Session looped(setup);
  looped.start();
  const auto loop = played(play(looped, -bar, bar * 18));
  setup.ending = true;
  Session closed(setup);
  closed.start();
  const auto ending = played(play(closed, -bar, bar * 18));
  CHECK_FALSE(loop == ending);
  CHECK(closed.last_tick() == bar * 16);
  CHECK(std::none_of(ending.begin(), ending.end(), [](const auto& event) {
    return event.part == band::Part::drums && event.at > bar * 15;
  }));
}
