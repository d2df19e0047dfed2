// What a callback may be handed, whole or not: the intake keeps messages that are whole.

#include "midi/input_intake.hpp"
#include "midi/message.hpp"

#include <doctest/doctest.h>

#include <memory>
#include <random>
#include <vector>

using namespace landfall;
using namespace landfall::midi;

namespace {

const TimePoint at{Nanoseconds{5'000'000'000}};

void take(InputIntake& intake, const std::vector<std::uint8_t>& bytes, TimePoint when = at) {
  intake.take(bytes, when);
}

std::vector<ShortMessage> taken(InputIntake& intake) {
  std::vector<ShortMessage> all;
  for (StampedMessage stamped; intake.pop(stamped);)
    all.push_back(stamped.message);
  return all;
}

} // namespace

TEST_CASE("a megabyte of system exclusive, broken or whole, leaves nothing and hides nothing") {
  InputIntake intake;
  std::vector<std::uint8_t> exclusive(1'000'000, 0x55);
  exclusive.front() = 0xF0;
  take(intake, exclusive);
  exclusive.back() = 0xF7;
  take(intake, exclusive);
  take(intake, {0xF0, 0x7E});
  take(intake, {0x55, 0x55});
  take(intake, {0x55, 0xF7});
  take(intake, {0x90, 60, 100});
  CHECK(taken(intake) == std::vector{note_on(0, 60, 100)});
  CHECK(intake.drops() == 0);
}

TEST_CASE("truncated messages, data without a status and undefined bytes are left out") {
  InputIntake intake;
  for (const auto& bytes : std::vector<std::vector<std::uint8_t>>{
           {}, {0x90}, {0x90, 60}, {0xC0}, {60, 100}, {0xF4}, {0xFD}, {0x90, 200, 1}, {0xF8, 1}})
    take(intake, bytes);
  CHECK(taken(intake).empty());
  take(intake, {0xC0, 5});
  CHECK(taken(intake) == std::vector{program(0, 5)});
}

TEST_CASE("random bytes give whole messages only") {
  InputIntake intake;
  std::mt19937 random(11);
  std::size_t whole = 0;
  for (int i = 0; i < 100'000; ++i) {
    std::vector<std::uint8_t> bytes(random() % 5);
    for (auto& byte : bytes)
      byte = static_cast<std::uint8_t>(random());
    take(intake, bytes);
    for (const auto& message : taken(intake)) {
      REQUIRE(is_valid(message));
      ++whole;
    }
  }
  CHECK(whole > 100);
}

TEST_CASE("what nobody reads is counted") {
  InputIntake intake;
  const auto extra = 100;
  for (std::size_t i = 0; i < InputIntake::capacity + extra; ++i)
    take(intake, {0x90, 60, 100});
  CHECK(intake.drops() == extra);
}

TEST_CASE("active sensing is noted and goes no further") {
  InputIntake intake;
  take(intake, {0xFE});
  CHECK(taken(intake).empty());
  CHECK_FALSE(intake.sensing().lost(at + std::chrono::milliseconds(400)));
  CHECK(intake.sensing().lost(at + std::chrono::milliseconds(500)));
  take(intake, {0x80, 60, 0}, at + std::chrono::milliseconds(600));
  CHECK_FALSE(intake.sensing().lost(at + std::chrono::milliseconds(601)));
}
