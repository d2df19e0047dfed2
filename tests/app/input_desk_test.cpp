#include "app/input_desk.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <chrono>

using namespace landfall;
using namespace landfall::app;

namespace {

const std::vector<InputInfo> both{{player_input, InputRole::player, "Strings"},
                                  {teacher_input, InputRole::teacher, "Keys"}};

midi::InputSetup strings(int base) {
  midi::InputSetup setup;
  setup.mode = midi::InputMode::per_string;
  setup.base_channel = base;
  return setup;
}

std::optional<midi::NoteEvent> note(InputDesk& desk, std::uint8_t input, int channel) {
  const auto events = desk.read({{}, midi::note_on(channel, 60, 90), input});
  return events.empty() ? std::nullopt : std::optional(std::get<midi::NoteEvent>(events.back()));
}

} // namespace

TEST_CASE("each input is read in its own mode") {
  InputDesk desk;
  desk.follow(both, {{"Strings", strings(2)}});
  CHECK(note(desk, player_input, 3)->string == 2);
  CHECK_FALSE(note(desk, teacher_input, 3)->string);
  CHECK_FALSE(note(desk, 5, 3)); // nothing is open there
  CHECK(desk.port(teacher_input) == "Keys");
}

TEST_CASE("a setup that changes holds from the next message on") {
  InputDesk desk;
  desk.follow(both, {});
  CHECK_FALSE(note(desk, player_input, 3)->string);
  desk.follow(both, {{"Strings", strings(0)}});
  CHECK(note(desk, player_input, 3)->string == 4);
  desk.follow({}, {});
  CHECK_FALSE(note(desk, player_input, 3));
}

TEST_CASE("a mode is proposed, keeps what is known of the port, and is never taken by itself") {
  InputDesk desk;
  midi::InputSetup known;
  known.latency = std::chrono::milliseconds(7);
  desk.follow(both, {{"Strings", known}});
  for (int channel = 4; channel < 10; ++channel)
    note(desk, player_input, channel);
  const auto proposal = desk.proposal();
  REQUIRE(proposal);
  CHECK(proposal->port == "Strings");
  CHECK(proposal->setup.base_channel == 4);
  CHECK(proposal->setup.latency == known.latency);
  CHECK(desk.setup(player_input) == known);
  SUBCASE("taken") {
    desk.follow(both, {{"Strings", proposal->setup}});
    CHECK_FALSE(desk.proposal());
  }
  SUBCASE("declined") {
    desk.decline("Strings");
    CHECK_FALSE(desk.proposal());
  }
}

TEST_CASE("what is remembered of inputs comes back as it was") {
  auto guitar = strings(10);
  guitar.strings = 7;
  guitar.bend_semitones = 24;
  guitar.latency = std::chrono::microseconds(12'340);
  guitar.string_latency[6] = std::chrono::milliseconds(9);
  const InputSetups setups{{"Strings", guitar}, {"Keys", {}}};
  CHECK(input_setups_from(json_of(setups)) == setups);
}

TEST_CASE("nonsense about inputs is taken as the usual, within bounds") {
  const auto json = nlohmann::ordered_json::parse(
      R"({"a": 3, "b": {"mode": "loud", "base_channel": 99, "strings": -4, "latency_ms": 1e9,
          "bend_semitones": "x", "string_latency_ms": [1, "two", 3]}})");
  const auto setups = input_setups_from(json);
  CHECK(setups.at("a") == midi::InputSetup{});
  const auto& odd = setups.at("b");
  CHECK(odd.mode == midi::InputMode::one_channel);
  CHECK(odd.base_channel == 15);
  CHECK(odd.strings == 1);
  CHECK(odd.latency == std::chrono::milliseconds(500));
  CHECK_FALSE(odd.bend_semitones);
  CHECK(odd.string_latency[2] == std::chrono::milliseconds(3));
  CHECK(input_setups_from(nlohmann::ordered_json(7)).empty());
}
