#include "midi/active_sensing.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::midi;

namespace {

const TimePoint start{Nanoseconds{1'000'000'000'000}};

TimePoint after(int milliseconds) {
  return start + std::chrono::milliseconds(milliseconds);
}

} // namespace

TEST_CASE("what never sent active sensing may be silent for as long as it likes") {
  ActiveSensing sensing;
  CHECK_FALSE(sensing.lost(start));
  sensing.hear(0x90, start);
  CHECK_FALSE(sensing.lost(after(3'600'000)));
}

TEST_CASE("once it has come, any message keeps the connection, and silence ends it") {
  ActiveSensing sensing;
  sensing.hear(ActiveSensing::status, start);
  CHECK_FALSE(sensing.lost(after(300)));
  CHECK_FALSE(sensing.lost(after(450))); // a busy system's slack
  sensing.hear(0x90, after(450));
  CHECK_FALSE(sensing.lost(after(900)));
  CHECK(sensing.lost(after(901)));
  CHECK(sensing.lost(after(60'000)));
}

TEST_CASE("it is lost until anything comes again; only a new 0xFE promises anew") {
  ActiveSensing sensing;
  sensing.hear(ActiveSensing::status, start);
  REQUIRE(sensing.lost(after(1'000)));
  sensing.hear(0x90, after(2'000));
  CHECK_FALSE(sensing.lost(after(2'001)));
  CHECK_FALSE(sensing.lost(after(9'000)));
  sensing.hear(ActiveSensing::status, after(9'000));
  CHECK_FALSE(sensing.lost(after(9'300)));
  CHECK(sensing.lost(after(9'451)));
}
