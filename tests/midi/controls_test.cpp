#include "midi/control_mask.hpp"
#include "midi/controls.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace landfall;
using namespace landfall::midi;
using std::chrono::milliseconds;

namespace {

constexpr TimePoint start{Nanoseconds{1'000'000'000'000}};

TimePoint at(int ms) {
  return start + milliseconds(ms);
}

Control controller_64() {
  return {ControlKind::controller, 64, {}};
}

Binding bound(const char* action, Press press = Press::once, ControlWay way = ControlWay::momentary,
              Control control = controller_64()) {
  return {"", control, way, press, action};
}

/// What is asked for when `moves` come, and who is asked every ten milliseconds as the window does.
struct Move {
  int ms;
  ShortMessage message;
};

std::vector<std::string> asked(const std::vector<Binding>& bindings, const std::vector<Move>& moves,
                               const std::string& port = "Step One") {
  Controls controls(ControlMap{bindings, {}});
  std::vector<std::string> all;
  std::size_t next = 0;
  for (int ms = 0; ms <= 3000; ms += 10) {
    for (; next < moves.size() && moves[next].ms <= ms; ++next)
      controls.take({at(moves[next].ms), moves[next].message, 0}, port);
    while (const auto one = controls.next(at(ms)))
      all.push_back(one->action + "@" + std::to_string((one->time - start) / milliseconds(1)));
  }
  return all;
}

std::vector<Move> presses(const std::vector<std::pair<int, int>>& spans) {
  std::vector<Move> moves;
  for (const auto& [down, up] : spans) {
    moves.push_back({down, control(2, 64, 127)});
    moves.push_back({up, control(2, 64, 0)});
  }
  return moves;
}

using Words = std::vector<std::string>;

const std::vector<Binding> all_three{bound("short"), bound("long", Press::long_press),
                                     bound("double", Press::twice)};

} // namespace

TEST_CASE("a press alone is told when the foot comes down") {
  CHECK(asked({bound("go")}, presses({{100, 900}})) == Words{"go@100"});
}

TEST_CASE("short, long and double presses of one switch are told apart") {
  CHECK(asked(all_three, presses({{100, 200}})) == Words{"short@400"});
  CHECK(asked(all_three, presses({{100, 1000}})) == Words{"long@600"});
  CHECK(asked(all_three, presses({{100, 180}, {300, 380}})) == Words{"double@300"});
  CHECK(asked(all_three, presses({{100, 180}, {500, 580}})) == Words{"short@400", "short@800"});
  CHECK(asked(all_three, presses({{100, 180}, {300, 1500}})) == Words{"double@300"});
  CHECK(asked(all_three, presses({{100, 180}, {300, 380}, {500, 580}})) ==
        Words{"double@300", "short@800"});
}

TEST_CASE("with a long press bound and no double, short is told when the foot goes up") {
  const std::vector<Binding> both{bound("short"), bound("long", Press::long_press)};
  CHECK(asked(both, presses({{100, 250}})) == Words{"short@250"});
  CHECK(asked(both, presses({{100, 2000}})) == Words{"long@600"});
}

TEST_CASE("with only a long press bound, a short one does nothing") {
  const std::vector<Binding> one{bound("long", Press::long_press)};
  CHECK(asked(one, presses({{100, 250}})).empty());
  CHECK(asked(one, presses({{100, 700}})) == Words{"long@600"});
}

TEST_CASE("a latching switch: each change is a press") {
  const std::vector<Binding> one{bound("go", Press::once, ControlWay::latching)};
  CHECK(asked(one, {{100, control(0, 64, 127)}, {900, control(0, 64, 0)}}) ==
        Words{"go@100", "go@900"});
  CHECK(asked(one, {{100, control(0, 64, 127)}, {900, control(0, 64, 127)}}) == Words{"go@100"});
}

TEST_CASE("a switch that sends the same at each press and nothing after it") {
  CHECK(asked({bound("go")}, {{100, control(0, 64, 127)}, {900, control(0, 64, 127)}}) ==
        Words{"go@100", "go@900"});
  // a pedal on its way down is one press
  CHECK(asked({bound("go")}, {{100, control(0, 64, 70)}, {110, control(0, 64, 90)}}) ==
        Words{"go@100"});
}

TEST_CASE("notes, programs and the two ways of a wheel are switches too") {
  const auto pad = bound("pad", Press::once, ControlWay::momentary, {ControlKind::note, 36, 9});
  CHECK(asked({pad}, {{0, note_on(9, 36, 1)}, {9, note_off(9, 36)}, {20, note_on(8, 36, 90)}}) ==
        Words{"pad@0"});
  const auto patch =
      bound("patch", Press::once, ControlWay::momentary, {ControlKind::program, 3, {}});
  CHECK(asked({patch}, {{0, program(5, 3)}, {50, program(5, 4)}, {90, program(5, 3)}}) ==
        Words{"patch@0", "patch@90"});
  const auto up = bound("up", Press::once, ControlWay::momentary, {ControlKind::wheel, 1, {}});
  const auto down = bound("down", Press::once, ControlWay::momentary, {ControlKind::wheel, -1, {}});
  CHECK(asked({up, down}, {{0, bend(0, 3000)},
                           {20, bend(0, 5000)},
                           {40, bend(0, 3000)},
                           {60, bend(0, 8000)},
                           {80, bend(0, 0)},
                           {99, bend(0, -8192)}}) == Words{"up@20", "down@99"});
}

TEST_CASE("an absolute control says where it stands, once for each place") {
  Controls controls(ControlMap{{bound("tempo", Press::once, ControlWay::absolute)}, {}});
  for (const int value : {0, 127, 127, 64})
    CHECK(controls.take({at(0), control(0, 64, value), 0}, "any"));
  CHECK(controls.next(at(1))->value == 0.0);
  CHECK(controls.next(at(1))->value == 1.0);
  CHECK(*controls.next(at(1))->value == doctest::Approx(64 / 127.0));
  CHECK_FALSE(controls.next(at(1)));
}

TEST_CASE("relative controls step by each of the usual codes") {
  struct Case {
    ControlWay way;
    int value, steps;
  };
  for (const auto& [way, value, steps] :
       {Case{ControlWay::relative, 1, 1}, Case{ControlWay::relative, 127, -1},
        Case{ControlWay::relative, 125, -3}, Case{ControlWay::relative_offset, 66, 2},
        Case{ControlWay::relative_offset, 63, -1}, Case{ControlWay::relative_signed, 2, 2},
        Case{ControlWay::relative_signed, 65, -1}}) {
    Controls controls(ControlMap{{bound("key", Press::once, way)}, {}});
    controls.take({at(0), control(0, 64, value), 0}, "any");
    const auto one = controls.next(at(1));
    REQUIRE(one);
    CHECK(one->steps == steps);
    CHECK_FALSE(one->value);
  }
}

TEST_CASE("bindings hold for their device only, and take all that their control sends") {
  auto binding = bound("go", Press::once, ControlWay::momentary, {ControlKind::note, 60, 0});
  binding.device = "step";
  Controls controls(ControlMap{{binding}, {}});
  CHECK(controls.take({at(0), note_on(0, 60, 90), 0}, "STEP One"));
  CHECK(controls.take({at(5), {{0xA0, 60, 3}, 3}, 0}, "Step One"));
  CHECK(controls.take({at(9), note_off(0, 60), 0}, "Step One"));
  CHECK_FALSE(controls.take({at(9), note_on(0, 60, 90), 0}, "Keys"));
  CHECK_FALSE(controls.take({at(9), note_on(0, 61, 90), 0}, "Step One"));
  CHECK_FALSE(controls.take({at(9), note_on(1, 60, 90), 0}, "Step One"));
  CHECK_FALSE(controls.take({at(9), control(0, 60, 90), 0}, "Step One"));
}

TEST_CASE("a device that comes back under another number has its bindings") {
  for (const auto& [device, name] :
       {std::pair{"steps:out", "steps-01:out"},
        {"steps-02:out", "Steps:out"},
        {"a2j:Steps [20] (capture): MIDI 1", "a2j:Steps [24] (capture): MIDI 1"}})
    CHECK(is_device(device, name));
  CHECK_FALSE(is_device("steps:out", "steps-01:other"));
  CHECK_FALSE(is_device("steps:out", "keys-01:out"));
}

TEST_CASE("the same switch on two inputs is two; one that was unplugged is not held") {
  Controls controls(ControlMap{{bound("short"), bound("long", Press::long_press)}, {}});
  controls.take({at(0), control(0, 64, 127), 2}, "a");
  controls.take({at(10), control(0, 64, 127), 3}, "b");
  controls.forget(2);
  int count = 0;
  for (; controls.next(at(2000)); ++count)
    ;
  CHECK(count == 1);
}

TEST_CASE("the mask covers what the bindings of a port take, and nothing else") {
  ControlMask mask;
  auto pad = bound("pad", Press::once, ControlWay::momentary, {ControlKind::note, 36, 9});
  pad.device = "pads";
  const std::vector<Binding> bindings{
      pad, bound("go"),
      bound("up", Press::once, ControlWay::momentary, {ControlKind::wheel, 1, 4})};
  mask.set(bindings, "Eight Pads");
  for (int channel = 0; channel < 16; ++channel)
    for (int number = 0; number < 128; ++number) {
      CHECK(mask.covers(note_on(channel, number, 9)) == (channel == 9 && number == 36));
      CHECK(mask.covers(control(channel, number, 9)) == (number == 64));
      CHECK_FALSE(mask.covers(program(channel, number)));
    }
  CHECK(mask.covers(note_off(9, 36)));
  CHECK(mask.covers(bend(4, 0)));
  CHECK_FALSE(mask.covers(bend(3, 0)));
  CHECK_FALSE(mask.covers({{0xF8, 0, 0}, 1}));
  mask.set(bindings, "Keys");
  CHECK_FALSE(mask.covers(note_on(9, 36, 9)));
  CHECK(mask.covers(control(0, 64, 9)));
}
