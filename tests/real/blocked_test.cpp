// An output whose call never returns: JACK's own can't be made to do that while its server answers,
// so it is faked at the byte edge. Everything behind it is real: sender, worker, conductor.

#include "app/devices.hpp"
#include "app/outputs.hpp"
#include "app/setup.hpp"
#include "midi/sound_servers.hpp"
#include "real/child.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <sstream>
#include <unistd.h>

using namespace landfall;
using namespace landfall::app;

namespace {

std::atomic<int> sent{0}; ///< By the second output.

/// Takes the first message and never gives it back.
class Stuck final : public midi::Output {
public:
  void send(std::span<const std::uint8_t>, TimePoint) noexcept override {
    for (;;)
      pause();
  }
};

class Counting final : public midi::Output {
public:
  void send(std::span<const std::uint8_t>, TimePoint) noexcept override { ++sent; }
};

OpenedOutput open(const std::string&, midi::Latency) {
  static int opened = 0;
  OpenedOutput output;
  if (opened++ == 0)
    output.output = std::make_unique<Stuck>();
  else
    output.output = std::make_unique<Counting>();
  output.words = "fake out";
  return output;
}

practice::Session::Setup a_song() {
  std::istringstream in;
  std::ostringstream out, error;
  const auto song = load_song("A | D", in);
  REQUIRE(song);
  return setup_for(*song, load_feels({in, out, error}), {});
}

} // namespace

TEST_CASE("an output that blocks is given up, it is said, and the band is heard through the next") {
  midi::quieten_sound_libraries();
  Conductor conductor(a_song());
  {
    Devices devices(conductor, {"fake", "none"}, open);
    REQUIRE(devices.wait_until_ready(std::chrono::seconds(5)));
    conductor.start();
    CHECK(real::eventually([] { return sent > 8; }));
    CHECK(real::eventually([&] {
      return devices.state().notice == "the output did not answer and was opened again";
    }));
  }
  CHECK(Devices::must_exit_hard());
}
