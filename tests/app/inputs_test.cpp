#include "app/inputs.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

namespace {

const std::vector<std::string> ports{"Midi Through", "Step One", "Keys 49", "Strings"};

midi::ControlMap on_device(const std::string& device) {
  return {{{device, {midi::ControlKind::controller, 64, {}}, {}, {}, "start-stop"}}, {}};
}

std::vector<InputInfo> wanted(const InputWish& wish) {
  return wanted_inputs(wish, ports, {});
}

} // namespace

TEST_CASE("without a wish the player's input is the first that is no bound foot switch") {
  CHECK(wanted({"", "none", {}, false}) ==
        std::vector<InputInfo>{{player_input, InputRole::player, "Step One"}});
  CHECK(wanted({"", "none", on_device("step"), false}) ==
        std::vector<InputInfo>{{player_input, InputRole::player, "Keys 49"},
                               {first_control_input, InputRole::controls, "Step One"}});
}

TEST_CASE("a device that carries controls may be the player's too; it is opened once") {
  CHECK(wanted({"keys", "none", on_device("KEYS"), false}) ==
        std::vector<InputInfo>{{player_input, InputRole::player, "Keys 49"}});
}

TEST_CASE("the teacher never has the player's port") {
  CHECK(wanted({"keys", "keys", {}, false}).size() == 1);
  CHECK(wanted({"strings", "keys", {}, false}) ==
        std::vector<InputInfo>{{player_input, InputRole::player, "Strings"},
                               {teacher_input, InputRole::teacher, "Keys 49"}});
  CHECK(wanted({"virtual", "virtual", {}, false}).size() == 2);
}

TEST_CASE("back under another number it is the player's still, but never the teacher's own port") {
  const std::vector<std::string> names{"Keys-01:out"};
  CHECK(wanted_inputs({"Keys:out", "none", {}, false}, names, {}) ==
        std::vector<InputInfo>{{player_input, InputRole::player, "Keys-01:out"}});
  CHECK(wanted_inputs({"Keys:out", "Keys-01:out", {}, false}, names, {}) ==
        std::vector<InputInfo>{{teacher_input, InputRole::teacher, "Keys-01:out"}});
}

TEST_CASE("none is none, and what is not there is not wanted") {
  CHECK(wanted({"none", "none", {}, false}).empty());
  CHECK(wanted({"organ", "flute", {}, false}).empty());
}

TEST_CASE("while learning every port is listened to, but for those that only pass on") {
  const auto all = wanted({"keys", "none", {}, true});
  REQUIRE(all.size() == 3);
  CHECK(all[1] == InputInfo{2, InputRole::controls, "Step One"});
  CHECK(all[2] == InputInfo{3, InputRole::controls, "Strings"});
}

TEST_CASE("an input keeps its number while others come and go") {
  const std::vector<InputInfo> open{{3, InputRole::controls, "Strings"}};
  const auto all = wanted_inputs({"keys", "none", {}, true}, ports, open);
  REQUIRE(all.size() == 3);
  CHECK(all[1] == InputInfo{2, InputRole::controls, "Step One"});
  CHECK(all[2] == InputInfo{3, InputRole::controls, "Strings"});
}

TEST_CASE("there are never more inputs than numbers for them") {
  std::vector<std::string> many;
  for (int i = 0; i < 40; ++i)
    many.push_back("port " + std::to_string(i));
  CHECK(wanted_inputs({"", "none", {}, true}, many, {}).size() ==
        std::size_t{most_inputs - first_control_input} + 1);
}
