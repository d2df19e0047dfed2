// An output whose call never returns: JACK's own can't be made to do that while its server answers,
// so it is faked at the byte edge. Everything behind it is real: sender, worker, conductor.

#include "app/devices.hpp"
#include "app/extra_outputs.hpp"
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

/// The first is stuck.
PartPort open_deep(const std::string& wish) {
  static int opened = 0;
  PartPort part{nullptr, {wish, "fake"}};
  if (opened++ == 0)
    part.output = std::make_unique<Stuck>();
  else
    part.output = std::make_unique<Counting>();
  return part;
}

class Usual final : public midi::Output {
public:
  explicit Usual(std::atomic<int>& count) : count_(count) {}
  void send(std::span<const std::uint8_t>, TimePoint) noexcept override { ++count_; }

private:
  std::atomic<int>& count_;
};

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

TEST_CASE("a part's output that blocks is given up, it is said, and the band goes on meanwhile") {
  sent = 0;
  Conductor conductor(a_song());
  std::atomic<int> usual{0};
  conductor.add(
      std::make_unique<midi::Sender>(std::make_unique<Usual>(usual), conductor.transport_link()));
  ExtraOutputs extras(
      conductor, [] {}, open_deep);
  VoiceRoutes routes;
  routes[Voice::bass].port = "deep";
  const std::vector<midi::PortInfo> outputs{{"deep", "fake"}};
  CHECK_FALSE(extras.tend(routes, outputs));
  REQUIRE(extras.open() == std::vector<std::string>{"deep"});
  conductor.start();
  CHECK(real::eventually([&] { return usual > 8; }));
  CHECK(extras.notice().empty());

  int left_behind = 0;
  CHECK(real::eventually([&] {
    left_behind += extras.tend(routes, outputs) ? 1 : 0;
    return extras.notice() == "the output 'deep' did not answer and was opened again";
  }));
  CHECK(left_behind == 1);
  const int before = usual;
  CHECK(
      real::eventually([&] { return sent > 8 && usual > before; })); // in a new one, and beside it
  CHECK_FALSE(extras.close());
}
