#include "midi/control_learner.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace landfall;
using namespace landfall::midi;
using std::chrono::milliseconds;

namespace {

constexpr TimePoint start{Nanoseconds{1'000'000'000'000}};
const ControlAction press{"start-stop", true, false, false};
const ControlAction key{"key-up", true, false, true};
const ControlAction tempo{"tempo", false, true, true};

std::optional<Learned> learned(const ControlAction& action,
                               const std::vector<ShortMessage>& moves) {
  ControlLearner learner(action);
  auto time = start;
  for (const auto& message : moves)
    learner.hear({time += milliseconds(20), message, 3});
  return learner.learned(start + milliseconds(2000));
}

std::vector<ShortMessage> values(const std::vector<int>& all) {
  std::vector<ShortMessage> moves;
  for (const int value : all)
    moves.push_back(control(4, 20, value));
  return moves;
}

ControlWay way(const ControlAction& action, const std::vector<int>& all) {
  const auto result = learned(action, values(all));
  REQUIRE(result);
  CHECK(result->control == Control{ControlKind::controller, 20, 4});
  CHECK(result->input == 3);
  return result->way;
}

} // namespace

TEST_CASE("how a controller moves is told from what it sends") {
  CHECK(way(press, {127, 0}) == ControlWay::momentary);
  CHECK(way(press, {127}) == ControlWay::latching);
  CHECK(way(press, {0}) == ControlWay::latching);
  CHECK(way(press, {127, 127}) == ControlWay::momentary);
  CHECK(way(tempo, {60, 61, 62, 63, 65}) == ControlWay::absolute);
  CHECK(way(tempo, {1, 2, 3, 4, 6}) == ControlWay::absolute);
  CHECK(way(tempo, {1, 1, 2, 1}) == ControlWay::relative);
  CHECK(way(tempo, {127, 127, 126}) == ControlWay::relative);
  CHECK(way(key, {1}) == ControlWay::relative);
  CHECK(way(key, {65, 65, 66}) == ControlWay::relative_offset);
  CHECK(way(key, {63, 65}) == ControlWay::relative_offset);
  CHECK(way(key, {1, 1, 65, 65}) == ControlWay::relative_signed);
  CHECK(way(key, {127, 0}) == ControlWay::momentary);
  CHECK(way(key, {127}) == ControlWay::latching); // 127 is a step back of an encoder too
  CHECK(way(key, {0}) == ControlWay::latching);
  CHECK(way(key, {127, 127}) == ControlWay::momentary);
  CHECK(way(key, {127, 127, 126}) == ControlWay::relative);
  CHECK(way(tempo, {127}) == ControlWay::relative);
}

TEST_CASE("a controller is listened to for a while, a note is clear at once") {
  ControlLearner learner(press);
  learner.hear({start, control(0, 64, 127), 0});
  CHECK(learner.hears());
  CHECK_FALSE(learner.learned(start + milliseconds(600)));
  CHECK(learner.learned(start + milliseconds(700)));
  ControlLearner other(press);
  other.hear({start, note_off(9, 36), 0});
  CHECK_FALSE(other.hears());
  other.hear({start, note_on(9, 36, 20), 0});
  CHECK(other.learned(start)->control == Control{ControlKind::note, 36, 9});
}

TEST_CASE("a wheel is a switch with two ways, or a value") {
  CHECK_FALSE(learned(press, {bend(0, 500)}));
  CHECK(learned(press, {bend(0, 500), bend(0, -5000)})->control ==
        Control{ControlKind::wheel, -1, 0});
  const auto whole = learned(tempo, {bend(0, 5000)});
  CHECK(whole->control == Control{ControlKind::wheel, 0, 0});
  CHECK(whole->way == ControlWay::absolute);
}

TEST_CASE("the first control that moves is meant; parameters and pressure are none") {
  const auto result = learned(press, {{{0xA0, 3, 3}, 3},
                                      control(0, 101, 0),
                                      control(0, 6, 2),
                                      control(0, 123, 0),
                                      program(2, 7),
                                      note_on(0, 60, 90)});
  REQUIRE(result);
  CHECK(result->control == Control{ControlKind::program, 7, 2});
}
