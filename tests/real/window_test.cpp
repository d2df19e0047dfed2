// The window on a real screen, driven by keys and mouse. No MIDI system, and no sound but where a
// test brings a sound server.

#include "real/program.hpp"
#include "real/screen.hpp"
#ifdef LANDFALL_REAL_JACK
#include "midi/synth.hpp"
#include "real/studio.hpp"
#endif

#include <doctest/doctest.h>

#include <csignal>
#include <thread>

using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

/// A message stays for a shorter time.
constexpr milliseconds longer_than_a_message{2500};

const Environment no_sound{{"JACK_DEFAULT_SERVER", "landfall-no-such-server"}};

/// A screen and the program's window on it; or the reason to skip.
struct Desk {
  Desk() : screen(program.folder()) {
    if (!screen.running())
      MESSAGE("skipped: Xvfb, xdotool or import is not installed");
  }
  explicit operator bool() const { return screen.running(); }

  void open(const Command& arguments = {}, Environment environment = no_sound) {
    for (const auto& [name, value] : screen.environment())
      environment[name] = value;
    window = program.start(arguments, environment);
    const bool shown = screen.focus(*window);
    CAPTURE(window->err());
    CAPTURE(window->running());
    REQUIRE(shown);
    REQUIRE(eventually([&] { return screen.picture().brightness() > 2; }));
  }

  /// The window as it is after the first questions, stopped.
  Picture stopped() {
    screen.press("Escape");
    screen.press("space");
    return screen.still_picture();
  }

  bool moves() const {
    const auto before = screen.picture();
    return eventually([&] { return difference(screen.picture(), before) > 500; },
                      milliseconds(2000));
  }

  int quit() {
    screen.press("ctrl+q");
    return window->wait();
  }

  std::string settings() const { return read_file(program.file("config/landfall/settings.json")); }

  Program program;
  Screen screen;
  std::unique_ptr<Child> window;
};

/// A place within the first filled disc of the neck, from above.
std::pair<int, int> a_landing_note(const Picture& picture) {
  for (int y = Picture::height / 3; y + 12 < Picture::height; ++y)
    for (int x = 0; x < Picture::width; ++x) {
      const auto pixel = picture.at(x, y);
      if (pixel.red > 200 && pixel.green > 130 && pixel.blue < 110)
        return {x + 2, y + 12};
    }
  return {-1, -1};
}

/// How many pixels differ within `reach` of a place.
int difference_near(const Picture& a, const Picture& b, int x, int y, int reach) {
  int count = 0;
  for (int row = std::max(0, y - reach); row < std::min(Picture::height, y + reach); ++row)
    for (int column = std::max(0, x - reach); column < std::min(Picture::width, x + reach);
         ++column)
      count += std::abs(a.at(column, row).brightness() - b.at(column, row).brightness()) > 16;
  return count;
}

} // namespace

TEST_CASE("the first start plays by itself; keys stop it, help it, change it and end it") {
  Desk desk;
  if (!desk)
    return;
  desk.open();
  CHECK(desk.moves());
  const auto stopped = desk.stopped();
  CHECK(difference(desk.screen.still_picture(), stopped) == 0);

  desk.screen.press("question");
  const auto help = desk.screen.still_picture();
  CHECK(difference(help, stopped) > 20'000);
  desk.screen.press("Escape");
  CHECK(difference(desk.screen.still_picture(), stopped) == 0);

  desk.screen.press("k");
  CHECK(difference(desk.screen.still_picture(), stopped) > 500);
  desk.screen.press("y");
  const auto paper = desk.screen.still_picture();
  CHECK(paper.brightness() > stopped.brightness() + 80);
  desk.screen.press("space");
  CHECK(desk.moves());
  CHECK(desk.quit() == 0);
  CHECK(desk.window->err().empty());
  for (const auto* line : {"\"started_before\": true", "\"key\": \"Bb\"", "\"theme\": \"paper\"",
                           "\"song\": \"slipway-at-six\""}) {
    CAPTURE(line);
    CHECK(desk.settings().find(line) != std::string::npos);
  }
}

TEST_CASE("the second start opens as it was left, stopped; a signal ends it") {
  Desk desk;
  if (!desk)
    return;
  desk.open();
  desk.stopped();
  desk.screen.press("y");
  desk.screen.press("n");
  const auto left = desk.screen.still_picture(longer_than_a_message);
  REQUIRE(desk.quit() == 0);
  for (const int signal : {SIGTERM, SIGINT}) {
    desk.open();
    CHECK(difference(desk.screen.still_picture(), left) < 100);
    CHECK(desk.window->running());
    desk.window->signal(signal);
    CHECK(desk.window->wait() == 0);
  }
}

TEST_CASE("a small window is drawn whole and goes on") {
  Desk desk;
  if (!desk)
    return;
  desk.open();
  desk.stopped();
  desk.screen.resize(800, 450);
  const auto small = desk.screen.still_picture();
  const auto ground = desk.screen.picture().at(1200, 700); // of the screen itself
  CHECK_FALSE(small.at(4, 4) == ground);
  CHECK_FALSE(small.at(795, 445) == ground);
  CHECK(small.at(805, 100) == ground);
  CHECK(small.at(100, 455) == ground);
  CHECK(a_landing_note(small).first > 0);
  desk.screen.press("space");
  CHECK(desk.moves());
  desk.screen.resize(1280, 720);
  CHECK(eventually([&] { return !(desk.screen.picture().at(1275, 715) == ground); }));
  CHECK(desk.quit() == 0);
}

TEST_CASE("a click on the neck lights it as long as the button is held") {
  Desk desk;
  if (!desk)
    return;
  desk.open();
  desk.stopped();
  auto dark = desk.screen.still_picture();
  const auto [x, y] = a_landing_note(dark);
  REQUIRE(x > 0);
  desk.screen.point(x, y);
  dark = desk.screen.still_picture();
  desk.screen.hold_button();
  CHECK(eventually([&] { return difference_near(desk.screen.picture(), dark, x, y, 50) > 200; }));
  const auto lit = desk.screen.picture();
  CHECK(difference(lit, dark) < 20'000); // only there
  desk.screen.release_button();
  CHECK(eventually([&] { return difference_near(desk.screen.picture(), dark, x, y, 50) == 0; }));
  CHECK(desk.quit() == 0);
}

TEST_CASE("without any sound or MIDI system it says so, and plays on") {
  const Program program;
  const auto done = program.run({"play", "A | D", "--tempo", "400", "--choruses", "1"}, no_sound);
  CHECK(done.exit == 0);
  CHECK(done.err.find("no audio device") != std::string::npos);
  const auto ports = program.run({"ports"}, no_sound);
  CHECK(ports.exit == 0);
}

#ifdef LANDFALL_REAL_JACK

TEST_CASE("the window's band is heard, and falls silent when it is stopped") {
  Desk desk;
  Studio studio;
  if (!desk || !studio || !landfall::midi::has_synth())
    return;
  desk.open({}, {});
  const auto connected = [&] {
    int ports = 0;
    for (const auto* side : {"audio1", "audio2"})
      ports += studio.client->connect_from("Landfall.*", JACK_DEFAULT_AUDIO_TYPE, side);
    return ports >= 2;
  };
  if (!eventually(connected)) {
    MESSAGE("skipped: no sound font is installed");
    return;
  }
  CHECK(eventually([&] { return studio.client->take_peak() > 0.02F; }));
  desk.stopped();
  const auto silent = [&] {
    studio.client->take_peak();
    std::this_thread::sleep_for(milliseconds(200));
    return studio.client->take_peak() < 1e-3F;
  };
  CHECK(eventually(silent));
  desk.screen.press("space");
  CHECK(eventually([&] { return studio.client->take_peak() > 0.02F; }));
  desk.screen.press("space");
  CHECK(eventually(silent));
  CHECK(desk.quit() == 0);
}

#endif
