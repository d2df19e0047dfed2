// The built-in synth through a real JACK server.

#include "midi/synth.hpp"
#include "real/screen_studio.hpp"

#include <algorithm>
#include <csignal>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

/// Connects the client to the synth's sound; false where none comes: no sound font is installed.
bool hears_synth(JackClient& client) {
  return eventually([&] {
    int ports = 0;
    for (const auto* side : {"audio1", "audio2"})
      ports += client.connect_from("Landfall.*", JACK_DEFAULT_AUDIO_TYPE, side);
    return ports >= 2;
  });
}

} // namespace

TEST_CASE("the band is heard through the built-in synth: not silent, never at full scale") {
  Studio studio;
  if (!studio || !midi::has_synth())
    return;
  const auto play =
      studio.program.start({"play", "A | D", "--tempo", "400", "--out", "synth", "--in", "none"});
  if (!hears_synth(*studio.client)) {
    INFO(play->err());
    CHECK(play->err().find("sound font") != std::string::npos); // none is installed
    return;
  }
  REQUIRE(eventually([&] { return studio.client->take_peak() > 0.02F; }));
  float highest = 0, lowest_of_bars = 1;
  for (int i = 0; i < 3; ++i) {
    std::this_thread::sleep_for(milliseconds(600));
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

TEST_CASE("the window's band is heard, and falls silent when it is stopped") {
  ScreenStudio studio;
  if (!studio || !midi::has_synth())
    return;
  auto& client = *studio.client;
  const auto window = studio.start({}); // the first start plays by itself
  REQUIRE(studio.screen.focus(*window));
  if (!hears_synth(client)) {
    MESSAGE("skipped: no sound font is installed");
    return;
  }
  const auto sounds = [&] { return client.take_peak() > 0.02F; };
  const auto silent = [&] {
    client.take_peak();
    std::this_thread::sleep_for(milliseconds(200));
    return client.take_peak() < 1e-3F;
  };
  CHECK(eventually(sounds));
  studio.screen.press("Escape");
  studio.screen.press("space");
  CHECK(eventually(silent));
  studio.screen.press("space");
  CHECK(eventually(sounds));
  studio.screen.press("space");
  CHECK(eventually(silent));
  studio.screen.press("ctrl+q");
  CHECK(window->wait() == 0);
}
