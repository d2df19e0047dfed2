#include "midi/underruns.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using midi::Underruns;

namespace {

/// A device with blocks of 480 frames at 48 kHz, 10 ms each, and one of them in reserve.
struct Device {
  Underruns underruns{48'000, 1};
  TimePoint now{std::chrono::hours{1}};

  void wait(int ms) { now += std::chrono::milliseconds{ms}; }
  void ask(int blocks = 1) {
    for (int i = 0; i < blocks; ++i)
      underruns.block(now, 480);
  }
  std::uint64_t count() const { return *underruns.counter(); }
};

} // namespace

TEST_CASE("a device that asks in time, early or within its reserve has no underrun") {
  Device device;
  for (const int ms : {0, 10, 10, 3, 17, 10, 19, 1, 19, 10}) {
    device.wait(ms);
    device.ask();
  }
  CHECK(device.count() == 0);
}

TEST_CASE("a device that asks after its reserve is over has one underrun, however long it took") {
  Device device;
  device.ask();
  device.wait(21);
  device.ask();
  CHECK(device.count() == 1);
  device.wait(10);
  device.ask();
  device.wait(5'000);
  device.ask();
  CHECK(device.count() == 2);
}

TEST_CASE("a device that asks for four blocks at once may wait for as long as they last") {
  Device device;
  for (int i = 0; i < 20; ++i) {
    device.ask(4);
    device.wait(40);
  }
  device.wait(9);
  device.ask(4);
  CHECK(device.count() == 0);
  device.wait(51);
  device.ask(4);
  CHECK(device.count() == 1);
}

TEST_CASE("the count can still be read when the device is gone") {
  std::shared_ptr<const std::atomic<std::uint64_t>> counter;
  {
    Device device;
    counter = device.underruns.counter();
    device.ask();
    device.wait(100);
    device.ask();
  }
  CHECK(*counter == 1);
}
