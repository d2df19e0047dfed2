#include "app/ear_events.hpp"

#include <doctest/doctest.h>

#include <chrono>

using namespace landfall;
using namespace landfall::app;
using std::chrono::milliseconds;

namespace {

/// A tick a millisecond.
Ticks tick_at(TimePoint time) {
  return {time.time_since_epoch() / milliseconds(1)};
}

constexpr TimePoint at_100{milliseconds(100)};

} // namespace

TEST_CASE("the ear hears the string, and each string without its own latency") {
  midi::InputSetup setup;
  setup.mode = midi::InputMode::per_string;
  setup.latency = milliseconds(10);
  setup.string_latency[5] = milliseconds(15);
  const auto low = ear_event(midi::NoteEvent{at_100, 5, 40, 90, true, 6}, setup, tick_at);
  CHECK(low == ear::Event{ear::NoteOn{Ticks{75}, 5, 40, 90, 6}});
  const auto high = ear_event(midi::NoteEvent{at_100, 0, 64, 0, false, 1}, setup, tick_at);
  CHECK(high == ear::Event{ear::NoteOff{Ticks{90}, 0, 64}});
}

TEST_CASE("the ear hears bends and pedals, and no other controls") {
  const midi::InputSetup setup;
  CHECK(ear_event(midi::BendEvent{at_100, 3, -50}, setup, tick_at) ==
        ear::Event{ear::Bend{Ticks{100}, 3, -50}});
  CHECK(ear_event(midi::PedalEvent{at_100, 3, true}, setup, tick_at) ==
        ear::Event{ear::Pedal{Ticks{100}, 3, true}});
  CHECK_FALSE(ear_event(midi::ControlEvent{at_100, 3, 1, 2}, setup, tick_at));
  CHECK_FALSE(ear_event(midi::ProgramEvent{at_100, 3, 1}, setup, tick_at));
  CHECK_FALSE(ear_event(midi::SystemEvent{at_100, 0xF8, 0}, setup, tick_at));
}
