// A lesson in the window, stepped by an independent client that acts as the foot switch.

#include "real/screen_studio.hpp"

#include <algorithm>
#include <fstream>

using namespace landfall;
using namespace landfall::real;

namespace {

constexpr int lead_channel = 2;

std::string write(const std::string& path, const std::string& text) {
  std::ofstream(path) << text;
  return path;
}

std::size_t notes(const JackClient& client, bool lead) {
  const auto all = client.recorded(0);
  return static_cast<std::size_t>(std::count_if(all.begin(), all.end(), [&](const auto& recorded) {
    return midi::is_note_on(recorded.message) &&
           (midi::channel_of(recorded.message) == lead_channel) == lead;
  }));
}

bool band_falls_silent(const JackClient& client) {
  return falls_silent([&] { return notes(client, false); });
}

bool plays_on(const JackClient& client) {
  const auto before = notes(client, false);
  return eventually([&] { return notes(client, false) > before + 6; });
}

const char* lesson = "title: Three scenes\n"
                     "scene: One\nsay: This is one.\nsong: A | D\ntempo: 240\nset: arpeggio\n"
                     "scene: Two\nsay: This is two.\nkey: C\nnote: never seen\n"
                     "scene: Three\nsay: This is three.\nsong: E | B\ntempo: 240\n"
                     "scene: Four\nsay: This is four.\n";

} // namespace

TEST_CASE("a lesson is stepped by foot while the band plays, held, gone on with, and remembered") {
  ScreenStudio studio;
  if (!studio)
    return;
  auto& screen = studio.screen;
  auto& client = *studio.client;
  const auto file = write(studio.program.file("stage.lesson"), lesson);
  const auto controls =
      write(studio.program.file("stage.controls"), "device: studio\ncontroller 65: next-scene\n"
                                                   "controller 64: freeze\n"
                                                   "controller 66: play-through\n");
  auto window =
      studio.start({"--lesson", file, "--out", "studio", "--in", "none", "--controls", controls});
  const bool shown = screen.focus(*window);
  INFO(window->err());
  REQUIRE(shown);
  REQUIRE(eventually([&] { return client.is_heard(); }));
  CHECK(notes(client, false) == 0); // a lesson does not play by itself
  const auto one = screen.still_picture();
  tread(client, 65);
  CHECK(eventually([&] { return difference(screen.picture(), one) > 1000; }));
  screen.press("space");
  CHECK(plays_on(client));
  tread(client, 65); // another song, at the bar line
  CHECK(plays_on(client));
  tread(client, 64);
  CHECK(band_falls_silent(client));
  const auto held = screen.still_picture();
  screen.press("F6");
  CHECK(eventually([&] { return difference(screen.picture(), held) > 1000; }));
  const auto before = notes(client, true);
  tread(client, 66);
  CHECK(eventually([&] { return notes(client, true) > before + 4; }));
  tread(client, 66);
  tread(client, 64);
  CHECK(plays_on(client));
  screen.press("ctrl+q");
  CHECK(window->wait() == 0);
  const auto settings = read_file(studio.program.file("config/landfall/settings.json"));
  CHECK(settings.find("\"stage\": 2") != std::string::npos);
  CHECK(settings.find("\"song\": \"slipway-at-six\"") != std::string::npos);
}

TEST_CASE(
    "a whole lesson in two windows, stepped by foot: the teacher's shows notes and what is next") {
  ScreenStudio studio;
  if (!studio)
    return;
  auto& screen = studio.screen;
  auto& client = *studio.client;
  const auto file = write(studio.program.file("stage.lesson"), lesson);
  const auto controls =
      write(studio.program.file("stage.controls"), "device: studio\ncontroller 65: next-scene\n");
  auto window = studio.start({"--lesson", file, "--notes-display", "0", "--out", "studio", "--in",
                              "none", "--controls", controls});
  INFO(window->err());
  REQUIRE(screen.focus(*window));
  REQUIRE(eventually([&] { return screen.shows_window("your notes"); }));
  REQUIRE(eventually([&] { return client.is_heard(); }));
  screen.press("space"); // whichever of the two has the keys
  CHECK(plays_on(client));
  for (int scene = 2; scene <= 4; ++scene) {
    const auto before = screen.picture();
    tread(client, 65);
    CHECK(eventually([&] { return difference(screen.picture(), before) > 1000; }));
    CHECK(plays_on(client));
  }
  screen.press("ctrl+t");
  CHECK(eventually([&] { return !screen.shows_window("your notes"); }));
  CHECK(plays_on(client)); // the class's window and the band go on
  screen.press("ctrl+q");
  CHECK(window->wait() == 0);
}
