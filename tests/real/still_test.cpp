// How often the window makes its picture anew: while stopped never, and while it plays no more
// often than the display shows one. In this process, on a driver without a screen.

#include "app/data.hpp"
#include "app/room.hpp"
#include "app/setup.hpp"
#include "midi/sound_servers.hpp"
#include "real/child.hpp"

#include <SDL.h>
#include <doctest/doctest.h>

#include <cstdlib>
#include <sstream>

using namespace landfall;

namespace {

/// A room with one song and no devices.
struct Desk {
  explicit Desk(bool plays) {
    midi::quieten_sound_libraries();
    setenv("SDL_VIDEODRIVER", "dummy", 1);
    setenv("LANDFALL_DATA", LANDFALL_SOURCE_DIR, 1);
    setenv("XDG_CONFIG_HOME", home.path().c_str(), 1);
    setenv("XDG_DATA_HOME", home.path().c_str(), 1);
    std::istringstream none;
    const auto song = app::load_song("A | D", none);
    REQUIRE(song);
    app::Room::Start start;
    start.settings.started_before = true;
    start.settings.out = start.settings.in = "none";
    start.history = home.path() + "/history.db";
    app::Streams streams{none, said, said};
    start.feels = app::load_feels(streams);
    start.setup = app::setup_for(*song, start.feels, {});
    start.instrument = app::instrument_of({});
    start.plays = plays;
    start.saves = false;
    render::WindowOptions options;
    options.font_folder = app::fonts_folder().string();
    options.size = {900, 500};
    auto window = render::Window::open(options);
    REQUIRE(window);
    room.emplace(std::move(*window), std::move(start));
  }

  real::Scratch home;
  std::ostringstream said;
  std::optional<app::Room> room;
};

} // namespace

TEST_CASE("a room that is stopped lays out no picture until something happens, and then one") {
  Desk desk(false);
  constexpr int enough = 60;
  int turns = 0, calm = 0;
  std::uint64_t before = 0, moved_at = 0;
  desk.room->run([&] {
    const auto now = desk.room->frames_laid_out();
    calm = now == before ? calm + 1 : 0;
    before = now;
    if (calm == enough && moved_at == 0) {
      moved_at = now;
      SDL_Event event{};
      event.type = SDL_WINDOWEVENT;
      event.window.event = SDL_WINDOWEVENT_EXPOSED;
      SDL_PushEvent(&event);
      calm = 0;
    }
    return ++turns == 4000 || (moved_at > 0 && calm == enough);
  });
  CHECK(calm == enough);
  CHECK(moved_at > 0);
  CHECK(before == moved_at + 1);
}

TEST_CASE(
    "a note that fades while the band is stopped is shown no faster than the display either") {
  Desk desk(false);
  constexpr std::uint64_t pictures = 12;
  int turns = 0;
  std::uint64_t begun = 0;
  TimePoint begin;
  desk.room->run([&] {
    const auto now = desk.room->frames_laid_out();
    if (++turns % 60 == 0) { // a note fades for half a second: one after the other
      for (const auto type : {SDL_MOUSEBUTTONDOWN, SDL_MOUSEBUTTONUP}) {
        SDL_Event event{};
        event.type = type;
        event.button.button = SDL_BUTTON_LEFT;
        event.button.x = 450;
        event.button.y = 330;
        SDL_PushEvent(&event);
      }
      if (turns == 60) {
        begun = now;
        begin = Clock::now();
      }
    }
    return turns == 4000 || (turns > 60 && now == begun + pictures);
  });
  CHECK(desk.room->frames_laid_out() == begun + pictures);
  CHECK(Clock::now() - begin > std::chrono::milliseconds(15) * (pictures - 2));
}

TEST_CASE("a room that plays shows a picture a turn, and no faster than the display") {
  Desk desk(true);
  constexpr int pictures = 30;
  int turns = 0;
  std::uint64_t first = 0, last = 0;
  TimePoint begin;
  desk.room->run([&] {
    if (turns == 1)
      first = desk.room->frames_laid_out(), begin = Clock::now();
    last = desk.room->frames_laid_out();
    return ++turns == pictures + 2;
  });
  CHECK(last - first == pictures);
  // A driver that waits for no display must be held: 60 a second is what this one claims.
  CHECK(Clock::now() - begin > std::chrono::milliseconds(15) * (pictures - 1));
}
