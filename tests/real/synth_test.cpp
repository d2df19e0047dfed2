// The built-in synth through a real JACK server.

#include "midi/synth.hpp"
#include "real/studio.hpp"

#include <algorithm>
#include <csignal>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

TEST_CASE("the band is heard through the built-in synth: not silent, never at full scale") {
  Studio studio;
  if (!studio || !midi::has_synth())
    return;
  const auto play =
      studio.program.start({"play", "A | D", "--tempo", "240", "--out", "synth", "--in", "none"});
  const auto connected = [&] {
    int ports = 0;
    for (const auto* side : {"audio1", "audio2"})
      ports += studio.client->connect_from("Landfall.*", JACK_DEFAULT_AUDIO_TYPE, side);
    return ports >= 2;
  };
  if (!eventually(connected)) {
    INFO(play->err());
    CHECK(play->err().find("sound font") != std::string::npos); // none is installed
    return;
  }
  REQUIRE(eventually([&] { return studio.client->take_peak() > 0.02F; }));
  float highest = 0, lowest_of_bars = 1;
  for (int i = 0; i < 3; ++i) {
    std::this_thread::sleep_for(milliseconds(1000));
    const float peak = studio.client->take_peak();
    highest = std::max(highest, peak);
    lowest_of_bars = std::min(lowest_of_bars, peak);
  }
  CHECK(lowest_of_bars > 0.02F);
  CHECK(highest < 1.0F);
  MESSAGE("peak " << highest);
  play->signal(SIGTERM);
  CHECK(play->wait() == 0);
  std::this_thread::sleep_for(milliseconds(100));
  studio.client->take_peak();
  std::this_thread::sleep_for(milliseconds(300));
  CHECK(studio.client->take_peak() < 1e-3F);
}
