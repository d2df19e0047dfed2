#include "app/chunks.hpp"
#include "midi/message.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

TEST_CASE("a plan becomes messages in order, its sounds before its first note") {
  practice::Plan plan;
  plan.from = {3840};
  plan.to = {7680};
  plan.feel = "plain";
  plan.events = {{{3700}, {100}, band::Part::comping, {60}, 70},
                 {{3840}, {200}, band::Part::bass, {40}, 80},
                 {{3840}, {60}, band::Part::drums, {36}, 90}};
  const auto chunk = chunk_of(plan, band::plain_feel());
  CHECK(chunk.from == plan.from);
  CHECK(chunk.to == plan.to);
  REQUIRE(chunk.messages.size() == 6);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(chunk.messages[i].at == Ticks{3700});
    CHECK(midi::status_of(chunk.messages[i].message) == midi::Status::program);
    CHECK(midi::is_note_on(chunk.messages[i + 3].message));
  }
  CHECK(midi::channel_of(chunk.messages[3].message) == 0);
  CHECK(midi::channel_of(chunk.messages[4].message) == 1);
  CHECK(midi::channel_of(chunk.messages[5].message) == midi::drum_channel);
}

TEST_CASE("the rest of a plan has its sounds, and no note that began before") {
  practice::Plan plan;
  plan.to = {7680};
  plan.feel = "plain";
  plan.events = {{{100}, {4000}, band::Part::bass, {40}, 80},
                 {{960}, {200}, band::Part::bass, {41}, 80}};
  const auto rest = rest_of(chunk_of(plan, band::plain_feel()), {960});
  CHECK(rest.from == Ticks{960});
  CHECK(rest.to == plan.to);
  REQUIRE(rest.messages.size() == 4);
  for (const auto& message : rest.messages)
    CHECK(message.at == Ticks{960});
  CHECK(midi::note_of(rest.messages[3].message) == 41);
}

TEST_CASE("a drone has a sound that holds") {
  practice::Plan plan;
  plan.drone = true;
  const auto chunk = chunk_of(plan, band::plain_feel());
  CHECK(chunk.messages.at(0).message == midi::program(0, drone_program));
  CHECK(chunk.messages.at(1).message == midi::program(1, drone_program));
}

TEST_CASE("each muted part is a muted channel, but for the drums', which is the click's too") {
  practice::Choice choice;
  CHECK(muted_channels(choice) == 0);
  choice.muted.fill(true);
  CHECK(muted_channels(choice) == ((1U << 0U) | (1U << 1U)));
}
