#include "midi/fake_output.hpp"
#include "midi/routing.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace landfall;
using namespace landfall::midi;
using namespace landfall::midi::test;

namespace {

struct RoutedRig {
  Latest<Routing> link{straight_routing()};
  FakeOutput* output = nullptr;
  std::unique_ptr<RoutedOutput> routed;
  Routing routing = straight_routing();

  RoutedRig() {
    auto owned = std::make_unique<FakeOutput>();
    output = owned.get();
    routed = std::make_unique<RoutedOutput>(std::move(owned), link);
  }
  void change(int channel, Route route) {
    routing.routes[static_cast<std::size_t>(channel)] = route;
    link.publish(routing);
  }
  void send(const ShortMessage& message) { routed->send({message.bytes.data(), message.size}, {}); }
  std::vector<std::string> log() {
    std::vector<std::string> lines;
    for (const auto& each : output->sent)
      lines.push_back(text(each.message));
    output->sent.clear();
    return lines;
  }
};

using Lines = std::vector<std::string>;

} // namespace

TEST_CASE("straight on, every message is as it was") {
  RoutedRig rig;
  for (const auto& message : {note_on(3, 60, 90), note_off(3, 60), program(9, 8), bend(15, -200),
                              control(0, 7, 99), ShortMessage{{0xF8}, 1}})
    rig.send(message);
  CHECK(rig.log() ==
        Lines{"on 3 60 90", "off 3 60", "program 9 8", "bend 15 56 62", "cc 0 7 99", "clock"});
}

TEST_CASE("a channel goes to another one, transposed, with a sound of its own") {
  RoutedRig rig;
  rig.change(1, {true, 4, -12, 130, 38});
  rig.send(program(1, 33));
  rig.send(note_on(1, 40, 80));
  rig.send(bend(1, 0));
  rig.send(note_off(1, 40));
  CHECK(rig.log() == Lines{"cc 1 64 0", "cc 4 0 1", "cc 4 32 2", "program 4 38", "on 4 28 80",
                           "bend 4 0 64", "off 4 28"});
  rig.change(1, {true, 4, 0, -1, Route::untouched});
  rig.send(program(1, 33));
  CHECK(rig.log() == Lines{"cc 4 64 0"});
}

TEST_CASE("a channel that an output does not play is silent there") {
  RoutedRig rig;
  rig.send(note_on(1, 40, 80));
  rig.change(1, {false, 1, 0, -1, Route::as_planned});
  rig.log();
  rig.send(program(1, 33));
  rig.send(note_on(1, 41, 80));
  rig.send(note_off(1, 41));
  CHECK(rig.log() == Lines{"off 1 40", "cc 1 64 0"});
}

TEST_CASE("a note ends where it began, also after the routing changed") {
  RoutedRig rig;
  rig.change(0, {true, 5, 7, -1, Route::as_planned});
  rig.send(note_on(0, 60, 80));
  rig.change(0, {true, 6, 0, -1, Route::as_planned});
  rig.send(note_on(0, 62, 80));
  rig.send(note_off(0, 60));
  rig.send(note_off(0, 62));
  CHECK(rig.log() ==
        Lines{"cc 0 64 0", "on 5 67 80", "off 5 67", "cc 5 64 0", "on 6 62 80", "off 6 62"});
}

TEST_CASE("two that became the same note end with the last") {
  RoutedRig rig;
  rig.change(1, {true, 0, 0, -1, Route::as_planned});
  rig.send(note_on(0, 60, 80));
  rig.log();
  rig.send(note_on(1, 60, 70));
  CHECK(rig.log() == Lines{"off 0 60", "on 0 60 70"});
  rig.send(note_off(0, 60));
  CHECK(rig.log().empty());
  rig.send(note_off(1, 60));
  CHECK(rig.log() == Lines{"off 0 60"});
}

TEST_CASE("panic reaches all channels") {
  RoutedRig rig;
  rig.change(9, {true, 2, 0, -1, Route::as_planned});
  rig.change(2, {false, 2, 0, -1, Route::as_planned});
  std::array<bool, channel_count> off{};
  for (int channel = 0; channel < channel_count; ++channel)
    rig.send(control(channel, controller::all_sound_off, 0));
  for (const auto& each : rig.output->sent)
    if (each.message.bytes[1] == controller::all_sound_off)
      off[static_cast<std::size_t>(channel_of(each.message))] = true;
  CHECK(std::count(off.begin(), off.end(), true) == channel_count);
}

TEST_CASE("notes transposed beyond the range are left out") {
  RoutedRig rig;
  rig.change(0, {true, 0, 24, -1, Route::as_planned});
  rig.log();
  rig.send(note_on(0, 110, 80));
  rig.send(note_off(0, 110));
  CHECK(rig.log() == Lines{"cc 0 64 0"});
}

TEST_CASE("whatever is sent and rerouted at random, nothing hangs once all is let go") {
  std::mt19937 random(3);
  RoutedRig rig;
  const auto below = [&](unsigned n) { return static_cast<int>(random() % n); };
  for (int i = 0; i < 20'000; ++i) {
    if (below(50) == 0)
      rig.change(below(16), {below(4) != 0, static_cast<std::int8_t>(below(16)),
                             static_cast<std::int8_t>(below(25) - 12), -1, Route::as_planned});
    rig.send(below(2) == 0 ? note_on(below(16), 30 + below(60), 64)
                           : note_off(below(16), 30 + below(60)));
  }
  for (int channel = 0; channel < channel_count; ++channel)
    for (int note = 0; note < note_count; ++note)
      rig.send(note_off(channel, note));
  CHECK(hanging(rig.output->sent).empty());
}
