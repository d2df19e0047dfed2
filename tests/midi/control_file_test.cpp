#include "midi/control_file.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::midi;

namespace {

const std::vector<ControlAction> actions{{"start-stop", true, false, false},
                                         {"end-now", true, false, false},
                                         {"key-up", true, false, true},
                                         {"tempo", false, true, true}};

ControlMap read(const std::string& text) {
  const auto map = parse_controls(text, actions);
  REQUIRE_MESSAGE(map, (map ? "" : map.error().reason));
  return *map;
}

void fails(const std::string& text, int line, int column, const std::string& part) {
  const auto map = parse_controls(text, actions);
  CAPTURE(text);
  REQUIRE_FALSE(map);
  CHECK(map.error().line == line);
  CHECK(map.error().column == column);
  CHECK_MESSAGE(map.error().reason.find(part) != std::string::npos, map.error().reason);
}

} // namespace

TEST_CASE("every kind of control, way and press can be written") {
  const auto map = read("# on stage\r\n"
                        "controller 64: start-stop\n"
                        "controller 64 long: end-now\n"
                        "\n"
                        "device: Step One\n"
                        "hold: 600 ms\n"
                        "again: 250 ms\n"
                        "note 36 channel 10: start-stop\n"
                        "controller 65 latching double: end-now\n"
                        "controller 7 channel 16 absolute: tempo\n"
                        "controller 20 relative offset: key-up\n"
                        "program 128: end-now\n"
                        "wheel channel 1: tempo\n"
                        "  wheel up channel 2 :  start-stop  \n");
  REQUIRE(map.bindings.size() == 9);
  CHECK(
      map.bindings[0] ==
      Binding{
          "", {ControlKind::controller, 64, {}}, ControlWay::momentary, Press::once, "start-stop"});
  CHECK(map.bindings[1].press == Press::long_press);
  CHECK(map.bindings[2] == Binding{"Step One",
                                   {ControlKind::note, 36, 9},
                                   ControlWay::momentary,
                                   Press::once,
                                   "start-stop"});
  CHECK(map.bindings[3].way == ControlWay::latching);
  CHECK(map.bindings[3].press == Press::twice);
  CHECK(map.bindings[4].control.channel == 15);
  CHECK(map.bindings[5].way == ControlWay::relative_offset);
  CHECK(map.bindings[6].control.number == 127);
  CHECK(map.bindings[7].way == ControlWay::absolute);
  CHECK(map.bindings[8].control == Control{ControlKind::wheel, 1, 1});
  CHECK(map.times.hold.count() == 600);
  CHECK(map.times.again.count() == 250);
}

TEST_CASE("what is written reads back the same") {
  const auto map = read("hold: 700 ms\ncontroller 64: start-stop\ncontroller 64 double: end-now\n"
                        "device: Keys\nwheel: tempo\nnote 0 channel 1: key-up\n"
                        "device: Board\ncontroller 1 relative signed: tempo\n"
                        "controller 2 latching: start-stop\nprogram 1: end-now\n"
                        "wheel down: start-stop\n");
  const auto again = read(controls_text(map));
  CHECK(again.times == map.times);
  CHECK(again.bindings.size() == map.bindings.size());
  for (const auto& binding : map.bindings)
    CHECK(std::count(again.bindings.begin(), again.bindings.end(), binding) == 1);
  CHECK(controls_text(again) == controls_text(map));
  CHECK(read(controls_text({})) == ControlMap{});
}

TEST_CASE("errors say where, and what was expected") {
  fails("controller 64\n", 1, 1, "colon");
  fails("\n\nknob 3: start-stop", 3, 1, "begins with note");
  fails("controller: start-stop", 1, 11, "from 0 to 127");
  fails("controller 128: start-stop", 1, 12, "not '128'");
  fails("controller x: start-stop", 1, 12, "not 'x'");
  fails("note 3 channel 0: start-stop", 1, 16, "from 1 to 16");
  fails("note 3 channel: start-stop", 1, 15, "from 1 to 16");
  fails("program 0: start-stop", 1, 9, "from 1 to 128");
  fails("note 3 loud: start-stop", 1, 8, "no 'loud'");
  fails("controller 3:", 1, 14, "behind the colon");
  fails("controller 3: dance", 1, 15, "no action 'dance'");
  fails(": start-stop", 1, 1, "before the colon");
  fails("hold: 5 s", 1, 7, "50 ms to 5000 ms");
  fails("again: 9999 ms", 1, 8, "50 ms");
  fails("device:", 1, 8, "behind the colon");
  fails("note 3 latching: start-stop", 1, 1, "only a controller");
  fails("note 3 absolute: tempo", 1, 1, "only a controller");
  fails("wheel latching: tempo", 1, 1, "only a controller");
  fails("controller 3 absolute long: tempo", 1, 1, "long and double");
  fails("controller 3 latching long: end-now", 1, 1, "let go");
  fails("program 3 long: end-now", 1, 1, "let go");
  fails("controller 3\x01: end-now", 1, 1, "can't be read");
  fails(std::string(500, ' ') + "x", 1, 401, "longer than");
}

TEST_CASE("an action must suit its control") {
  fails("controller 3: tempo", 1, 15, "needs a knob");
  fails("controller 3 absolute: start-stop", 1, 24, "takes no value");
  fails("controller 3 absolute: key-up", 1, 24, "takes no value");
  fails("controller 3 relative: end-now", 1, 24, "no way back");
}

TEST_CASE("two actions on one control are caught, whatever the channel or device") {
  fails("controller 64: start-stop\ncontroller 64: end-now\n", 2, 1,
        "controller 64 is bound to start-stop already");
  fails("controller 64: start-stop\ncontroller 64 channel 3: end-now\n", 2, 1, "already");
  fails("controller 64: start-stop\ndevice: Step\ncontroller 64: end-now\n", 3, 1, "already");
  fails("controller 64 long: start-stop\ncontroller 64 long: end-now\n", 2, 1,
        "controller 64 long is bound");
  fails("controller 7 absolute: tempo\ncontroller 7: end-now\n", 2, 1, "moves in one way");
  fails("wheel: tempo\nwheel up: end-now\n", 2, 1, "moves in one way");
  read("controller 64 channel 1: start-stop\ncontroller 64 channel 2: end-now\n");
  read("wheel up: start-stop\nwheel down: end-now\n");
  read("device: a\ncontroller 64: start-stop\ndevice: b\ncontroller 64: end-now\n");
}

TEST_CASE("a file has bounds") {
  std::string text;
  for (int channel = 1; channel <= 16; ++channel)
    for (int note = 0; note < 40; ++note)
      text +=
          "note " + std::to_string(note) + " channel " + std::to_string(channel) + ": start-stop\n";
  const auto map = parse_controls(text, actions);
  REQUIRE_FALSE(map);
  CHECK(map.error().line == static_cast<int>(most_bindings) + 1);
}
