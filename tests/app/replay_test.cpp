#include "app/replay.hpp"
#include "midi/message.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

namespace {

/// Two bars at 120, the second at 60; a bend before, a note across and a note within.
Replay sample() {
  auto timeline = std::make_shared<practice::Timeline>();
  timeline->tempi = {{Ticks{}, {500'000}}, {quarter * 4, {1'000'000}}};
  Replay replay;
  replay.timeline = timeline;
  replay.messages = {{Ticks{}, {}, midi::bend(2, 100)},
                     {quarter, quarter, midi::note_on(2, 60, 90)},
                     {quarter * 3, quarter * 9, midi::note_on(2, 64, 90)},
                     {quarter * 8, quarter, midi::note_on(2, 67, 90)}};
  replay.from = quarter * 2;
  replay.to = quarter * 8;
  return replay;
}

} // namespace

TEST_CASE("a pass begins with what was set before it, and cuts its notes at its end") {
  const auto pass = sample().pass(0);
  REQUIRE(pass.messages.size() == 2);
  CHECK(pass.messages[0].message == midi::bend(2, 100));
  CHECK(pass.messages[0].at == Ticks{});
  CHECK(pass.messages[1].at == quarter);
  CHECK(pass.messages[1].length == quarter * 5);
  CHECK(pass.to == quarter * 6);
}

TEST_CASE("passes of a loop follow each other without a gap, and lead to the same places") {
  auto replay = sample();
  replay.loops = true;
  const auto second = replay.pass(1);
  CHECK(second.from == replay.pass(0).to);
  CHECK(second.messages[1].at == replay.pass(0).messages[1].at + replay.length());
  CHECK(replay.place_at(replay.length()) == replay.from);
  CHECK(replay.place_at(replay.length() * 3 + quarter) == replay.from + quarter);
  CHECK(replay.pass_at(replay.length() - Ticks{1}) == 0);
}

TEST_CASE("the tempo follows the performance, slowed, and goes back where the loop does") {
  auto replay = sample();
  replay.speed = 0.5;
  CHECK(replay.tempo_at({}) == Tempo{1'000'000});
  const auto next = replay.tempo_after({});
  REQUIRE(next);
  CHECK(next->first == quarter * 2);
  CHECK(next->second == Tempo{2'000'000});
  CHECK_FALSE(replay.tempo_after(next->first));
  replay.loops = true;
  const auto seam = replay.tempo_after(next->first);
  REQUIRE(seam);
  CHECK(seam->first == replay.length());
  CHECK(seam->second == Tempo{1'000'000});
}

TEST_CASE("the player's channels are moved off the band's, one for each") {
  midi::smf::Track track;
  track.add({}, midi::smf::Text{midi::smf::TextKind::track_name, "player"});
  track.add_note({}, quarter, 0, 60, 90);
  track.add_note(quarter, quarter, 9, 64, 90);
  track.sort();
  const auto messages = messages_of({{track}}, -quarter);
  std::vector<int> channels;
  for (const auto& each : messages)
    if (midi::is_note_on(each.message)) {
      channels.push_back(midi::channel_of(each.message));
      CHECK(each.length == quarter);
    }
  CHECK(channels == std::vector<int>{2, 5});
  CHECK(messages.front().at == -quarter);
}
