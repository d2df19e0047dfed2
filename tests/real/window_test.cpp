// The window on a real screen, driven by keys and mouse, without any MIDI or sound system.

#include "real/program.hpp"
#include "real/screen.hpp"

#include <doctest/doctest.h>

#include <csignal>

using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

constexpr milliseconds longer_than_a_message{2500};

const Environment no_sound{{"JACK_DEFAULT_SERVER", "landfall-no-such-server"}};

/// A screen and the program's window on it; or the reason to skip.
struct Desk {
  Desk() : screen(program.folder()) { say_why_not(screen); }
  explicit operator bool() const { return screen.running(); }

  void open() {
    auto environment = screen.environment();
    environment.insert(no_sound.begin(), no_sound.end());
    window = program.start({}, environment);
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

  /// Waits until more than so many pixels differ from a picture.
  bool differs(const Picture& from, int pixels) const {
    return eventually([&] { return difference(screen.picture(), from) > pixels; });
  }
  bool is_again(const Picture& what) const {
    return eventually([&] { return difference(screen.picture(), what) == 0; });
  }
  bool moves() const { return differs(screen.picture(), 500); }

  /// The window when the message about what was just done has gone.
  Picture without_message() const {
    const auto with_message = screen.still_picture();
    eventually([&] { return difference(screen.picture(), with_message) > 50; },
               longer_than_a_message);
    return screen.still_picture();
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
  CHECK(desk.differs(stopped, 20'000));
  desk.screen.press("Escape");
  CHECK(desk.is_again(stopped));

  desk.screen.press("k");
  CHECK(desk.differs(stopped, 500));
  desk.screen.press("y");
  CHECK(eventually([&] { return desk.screen.picture().brightness() > stopped.brightness() + 80; }));
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
  const auto left = desk.without_message();
  REQUIRE(desk.quit() == 0);
  for (const int signal : {SIGTERM, SIGINT}) {
    desk.open();
    CHECK(eventually([&] { return difference(desk.screen.picture(), left) < 100; }));
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
