#include "app/listener.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;
using std::chrono::milliseconds;

TEST_CASE(
    "the ear is told of notes with their strings, bends and pedals, and of no other controls") {
  const TimePoint when{milliseconds(100)};
  const Ticks at{75};
  CHECK(ear_event(midi::NoteEvent{when, 5, 40, 90, true, 6}, at) ==
        ear::Event{ear::NoteOn{at, 5, 40, 90, 6}});
  CHECK(ear_event(midi::NoteEvent{when, 0, 64, 0, false, 1}, at) ==
        ear::Event{ear::NoteOff{at, 0, 64}});
  CHECK(ear_event(midi::BendEvent{when, 3, -50}, at) == ear::Event{ear::Bend{at, 3, -50}});
  CHECK(ear_event(midi::PedalEvent{when, 3, true}, at) == ear::Event{ear::Pedal{at, 3, true}});
  CHECK_FALSE(ear_event(midi::ControlEvent{when, 3, 1, 2}, at));
  CHECK_FALSE(ear_event(midi::ProgramEvent{when, 3, 1}, at));
  CHECK_FALSE(ear_event(midi::SystemEvent{when, 0xF8, 0}, at));
}

TEST_CASE("what is heard is waited for as long as the slowest string takes") {
  midi::InputSetup setup;
  const auto usual = hearing_delay(setup);
  setup.latency = milliseconds(10);
  setup.string_latency[5] = milliseconds(15);
  CHECK(hearing_delay(setup) - usual == milliseconds(25));
}
