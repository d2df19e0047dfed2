// What controls can be bound to, the files of bindings, and the page that learns them.

#include "app/control_actions.hpp"
#include "app/control_files.hpp"
#include "app/device_options.hpp"
#include "app/learn_page.hpp"
#include "app/run_command.hpp"
#include "app/song_file.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>

using namespace landfall;
using namespace landfall::app;
using std::chrono::milliseconds;

namespace {

constexpr TimePoint start{Nanoseconds{1'000'000'000'000}};

midi::Binding bound(const std::string& action, const std::string& device, int number) {
  return {device, {midi::ControlKind::controller, number, {}}, {}, {}, action};
}

/// A page of controls, the player at it, and what comes of it.
struct Desk {
  LearnPage page{{},
                 {[this](const midi::ControlMap& now) { map = now; },
                  [this](const std::string& line) { said = line; },
                  [](std::uint8_t input) { return input == 0 ? "Keys" : "Step One"; },
                  [](std::uint8_t input) { return input == 0; }}};
  midi::ControlMap map;
  std::string said;

  void press(const std::string& name, const std::string& text = "") {
    render::KeyPress key;
    key.name = name;
    key.text = text;
    page.press(key);
  }
  /// Chooses the action by what it does, then moves a control.
  void learn(const std::string& help, const std::vector<midi::ShortMessage>& moves,
             std::uint8_t input = 2) {
    press("Home");
    page.type(help);
    press("Return");
    for (const auto& message : moves)
      CHECK(page.learn({start, message, input}));
    page.advance(start + milliseconds(1000));
    for (std::size_t i = 0; i < help.size(); ++i)
      press("Backspace");
  }
  void learn_switch(const std::string& help, int number) {
    learn(help, {midi::control(0, number, 127), midi::control(0, number, 0)});
  }
};

} // namespace

TEST_CASE("every action and value can be bound by a name of its own, and says what it does") {
  std::set<std::string> names;
  for (const auto& action : control_actions()) {
    CAPTURE(action.name);
    CHECK(names.insert(action.name).second);
    CHECK_FALSE(control_help(action.name).empty());
    CHECK(action.presses != action.value);
    CHECK(action_named(action.name).has_value() == action.presses);
  }
  CHECK(names.size() == action_table().size() + value_table().size());
  CHECK(control_help("dance").empty());
}

TEST_CASE("what takes an action back is taken back by it") {
  for (const auto& row : action_table())
    if (const auto back = opposite(row.action)) {
      CHECK(*back != row.action);
      CHECK(opposite(*back) == row.action);
    }
  CHECK(opposite(Action::key_up) == Action::key_down);
  CHECK_FALSE(opposite(Action::panic));
}

TEST_CASE("ready-made controls: all are read, and with one switch alone the player gets by") {
  const auto profiles = control_profiles();
  REQUIRE(profiles.size() == 5);
  for (const auto& profile : profiles) {
    std::set<std::string> actions;
    for (const auto& binding : profile.map.bindings) {
      CHECK(binding.device.empty());
      actions.insert(binding.action);
    }
    CAPTURE(profile.title);
    const bool lesson = profile.title.starts_with("lesson");
    for (const auto* needed : {"start-stop", lesson ? "next-scene" : "what-next-start", "end-now"})
      CHECK(actions.count(needed) == 1);
  }
  const auto one = std::find_if(profiles.begin(), profiles.end(),
                                [](const auto& profile) { return profile.title == "one switch"; });
  REQUIRE(one != profiles.end());
  for (const auto& binding : one->map.bindings)
    CHECK(binding.control == one->map.bindings.front().control);
}

TEST_CASE("a profile takes the place of what held for any device, and of nothing else") {
  const ControlProfile profile{"one", {{bound("start-stop", "", 64)}, {}}};
  midi::ControlMap map{{bound("panic", "", 64), bound("key-up", "Pads", 20)}, {}};
  const auto joined = with_profile(map, profile);
  REQUIRE(joined);
  CHECK(joined->bindings == std::vector{bound("key-up", "Pads", 20), bound("start-stop", "", 64)});
  map.bindings.push_back(bound("panic", "Step", 64));
  const auto refused = with_profile(map, profile);
  REQUIRE_FALSE(refused);
  CHECK(refused.error().find("of 'Step' is bound to panic already") != std::string::npos);
}

TEST_CASE("learning: choose an action, move a control") {
  Desk desk;
  desk.learn_switch("start or stop", 64);
  REQUIRE(desk.map.bindings.size() == 1);
  const auto& binding = desk.map.bindings[0];
  CHECK(binding.device == "Step One");
  CHECK(binding.control == midi::Control{midi::ControlKind::controller, 64, 0});
  CHECK(binding.way == midi::ControlWay::momentary);
  CHECK(binding.action == "start-stop");
  CHECK(desk.said.find("controller 64") != std::string::npos);
}

TEST_CASE("learning a long and a double press of the same switch") {
  Desk desk;
  desk.learn_switch("start or stop", 64);
  desk.press("Tab");
  desk.learn_switch("close the song", 64);
  desk.press("Tab");
  desk.learn_switch("start again", 64);
  REQUIRE(desk.map.bindings.size() == 3);
  CHECK(desk.map.bindings[1].press == midi::Press::long_press);
  CHECK(desk.map.bindings[2].press == midi::Press::twice);
}

TEST_CASE("a second action on one control is refused in words; Delete makes room") {
  Desk desk;
  desk.learn_switch("start or stop", 64);
  desk.learn_switch("silence", 64);
  CHECK(desk.map.bindings.size() == 1);
  CHECK(desk.said.find("is bound to start-stop already") != std::string::npos);
  desk.page.type("start or stop");
  desk.press("Delete");
  CHECK(desk.map.bindings.empty());
}

TEST_CASE("a switch for what needs a knob is refused, and a knob is bound whole") {
  Desk desk;
  desk.learn_switch("tempo, 40", 64);
  CHECK(desk.map.bindings.empty());
  CHECK(desk.said.find("needs a knob") != std::string::npos);
  desk.learn("tempo, 40", {midi::control(0, 7, 50), midi::control(0, 7, 51),
                           midi::control(0, 7, 53), midi::control(0, 7, 55)});
  REQUIRE(desk.map.bindings.size() == 1);
  CHECK(desk.map.bindings[0].way == midi::ControlWay::absolute);
}

TEST_CASE("a key of the player's instrument can be bound, and the player is told") {
  Desk desk;
  desk.learn("start or stop", {midi::note_on(0, 36, 80)}, 0);
  REQUIRE(desk.map.bindings.size() == 1);
  CHECK(desk.map.bindings[0].device == "Keys");
  CHECK(desk.said.find("no longer plays") != std::string::npos);
}

TEST_CASE("Escape leaves learning, and then the page; nothing is taken unless it is asked for") {
  Desk desk;
  CHECK_FALSE(desk.page.learn({start, midi::note_on(0, 60, 80), 0}));
  desk.press("Return");
  CHECK(desk.page.moving());
  render::KeyPress escape;
  escape.name = "Escape";
  CHECK(desk.page.press(escape));
  CHECK_FALSE(desk.page.moving());
  CHECK_FALSE(desk.page.press(escape)); // the room closes the page
  CHECK(desk.map.bindings.empty());
}

TEST_CASE("knobs set and step tempo, levels and fullness") {
  practice::Session::Setup setup;
  std::istringstream nothing;
  setup.song = load_song("A | D | E | A", nothing)->song;
  Conductor conductor(std::move(setup));
  const auto choice = [&] { return conductor.snapshot().choice; };
  const auto beats = [&] {
    return song::beats_per_minute(choice().tempo, conductor.snapshot().song->meter);
  };
  CHECK(apply_value(conductor, {start, "tempo", 1.0, 0}) == "240 bpm");
  CHECK(beats() == doctest::Approx(240));
  CHECK(apply_value(conductor, {start, "tempo", {}, -3}) == "237 bpm");
  CHECK(apply_value(conductor, {start, "tempo", 0.0, 0}) == "40 bpm");
  CHECK(apply_value(conductor, {start, "bass-level", 0.0, 0}) == "level of the bass: 40 %");
  CHECK(apply_value(conductor, {start, "bass-level", {}, 2}) == "level of the bass: 50 %");
  CHECK(apply_value(conductor, {start, "fullness", 1.0, 0}));
  CHECK(choice().intensity == 1.0);
  CHECK_FALSE(apply_value(conductor, {start, "start-stop", {}, 0}));
}

TEST_CASE("a file of controls is checked, and ports lists what it may name") {
  const test::ScratchFolder scratch;
  const auto file = (scratch.path / "mine.controls").string();
  std::ofstream(file) << "controller 64: start-stop\n";
  CHECK(test::run({"check", file}).exit == 0);
  std::ofstream(file) << "controller 64: dance\n";
  const auto bad = test::run({"check", file});
  CHECK(bad.exit == 1);
  CHECK(bad.err.find(":1:16: error: there is no action 'dance'") != std::string::npos);
  const auto listed = test::run({"ports", "--actions"});
  CHECK(listed.exit == 0);
  for (const auto& action : control_actions())
    CHECK(listed.out.find(action.name + " ") != std::string::npos);
}

TEST_CASE("modes and channels on the command line are checked, and change only what they name") {
  CHECK(test::run({"play", "A", "--mode", "loud"}).exit == 2);
  CHECK(test::run({"play", "A", "--latency", "lowest"}).exit == 2);
  CHECK(test::run({"play", "A", "--base-channel", "17"}).exit == 2);
  CHECK(test::run({"play", "A", "--controls", "/nowhere.controls"}).exit == 1);
  midi::InputSetup known;
  known.latency = milliseconds(9);
  known.bend_semitones = 24;
  const ModeWish wish{midi::InputMode::per_string, 10, {}};
  const auto setup = wish.over(known);
  CHECK(setup.mode == midi::InputMode::per_string);
  CHECK(setup.base_channel == 10);
  CHECK(setup.latency == known.latency);
  CHECK(setup.bend_semitones == 24);
  CHECK_FALSE(ModeWish{{}, {}, 0}.over(known).bend_semitones);
  CHECK(ModeWish{}.over(known) == known);
}
