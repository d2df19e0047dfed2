#include "render/frame_limiter.hpp"
#include "render/sdl_input.hpp"

#include <SDL_events.h>
#include <doctest/doctest.h>

#include <cstring>

using namespace landfall::render;

namespace {

constexpr Size units{800, 450}, pixels{1600, 900};

std::vector<Input> inputs(std::initializer_list<SDL_Event> events) {
  std::vector<Input> out;
  for (const SDL_Event& event : events)
    append_input(event, units, pixels, out);
  return out;
}

SDL_Event key(Uint32 type, SDL_Keycode code, Uint16 held) {
  SDL_Event event{};
  event.type = type;
  event.key.keysym.sym = code;
  event.key.keysym.mod = held;
  return event;
}

SDL_Event typed(const char* text) {
  SDL_Event event{};
  event.type = SDL_TEXTINPUT;
  std::strncpy(event.text.text, text, sizeof event.text.text - 1);
  return event;
}

} // namespace

TEST_CASE("a key brings its name, its modifiers and what it types") {
  const auto got = inputs({key(SDL_KEYDOWN, SDLK_SLASH, KMOD_LSHIFT), typed("?"),
                           key(SDL_KEYUP, SDLK_SLASH, KMOD_LSHIFT), typed("ü")});
  REQUIRE(got.size() == 3);
  CHECK(got[0] == Input(KeyPress{"/", "?", true, false, false, false}));
  CHECK(got[1] == Input(KeyRelease{"/"}));
  CHECK(got[2] == Input(TypedText{"ü"}));
}

TEST_CASE("signs of the third level are typed, and are no Alt; the left Alt is one") {
  auto got = inputs({key(SDL_KEYDOWN, SDLK_7, KMOD_RALT), typed("|")});
  CHECK(got.at(0) == Input(KeyPress{"7", "|", false, false, false, false}));
  got = inputs({key(SDL_KEYDOWN, SDLK_7, KMOD_RALT | KMOD_LCTRL), typed("|")});
  CHECK(got.at(0) == Input(KeyPress{"7", "|", false, false, false, false}));
  got = inputs({key(SDL_KEYDOWN, SDLK_7, KMOD_LALT)});
  CHECK(got.at(0) == Input(KeyPress{"7", "", false, false, true, false}));
}

TEST_CASE("Ctrl+V and Shift+Insert are typed text: what the clipboard holds") {
  for (const auto& press :
       {key(SDL_KEYDOWN, SDLK_v, KMOD_LCTRL), key(SDL_KEYDOWN, SDLK_INSERT, KMOD_LSHIFT)}) {
    const auto got = inputs({press});
    REQUIRE(got.size() == 1);
    CHECK(std::holds_alternative<TypedText>(got[0]));
  }
  CHECK(std::holds_alternative<KeyPress>(inputs({key(SDL_KEYDOWN, SDLK_v, 0)}).at(0)));
}

TEST_CASE("names of keys") {
  const std::pair<SDL_Keycode, const char*> cases[] = {
      {SDLK_SPACE, "Space"},   {SDLK_LEFT, "Left"},     {SDLK_F11, "F11"},      {SDLK_a, "A"},
      {SDLK_RETURN, "Return"}, {SDLK_ESCAPE, "Escape"}, {SDLK_LEFTBRACKET, "["}};
  for (const auto& [code, name] : cases)
    CHECK(std::get<KeyPress>(inputs({key(SDL_KEYDOWN, code, KMOD_CTRL)}).at(0)).name == name);
}

TEST_CASE("the mouse is told in pixels of the picture") {
  SDL_Event press{};
  press.type = SDL_MOUSEBUTTONDOWN;
  press.button.x = 100;
  press.button.y = 50;
  press.button.button = SDL_BUTTON_RIGHT;
  press.button.clicks = 2;
  CHECK(inputs({press}).at(0) == Input(MousePress{{200, 100}, MouseButton::right, 2}));
}

TEST_CASE("a change of size, an exposure and a wish to close are passed on") {
  SDL_Event event{};
  event.type = SDL_WINDOWEVENT;
  event.window.event = SDL_WINDOWEVENT_SIZE_CHANGED;
  CHECK(inputs({event}).at(0) == Input(Resized{pixels}));
  CHECK(pictures_lost(event));
  event.window.event = SDL_WINDOWEVENT_EXPOSED;
  CHECK(inputs({event}).at(0) == Input(Exposed{}));
  event.window.event = SDL_WINDOWEVENT_MOVED;
  CHECK(inputs({event}).empty());
  CHECK_FALSE(pictures_lost(event));
  event.type = SDL_QUIT;
  CHECK(inputs({event}).at(0) == Input(CloseAsked{}));
}

TEST_CASE("the limiter holds the rate, and a late frame causes no burst") {
  using std::chrono::milliseconds;
  FrameLimiter limiter(milliseconds(10));
  FrameLimiter::Time now{std::chrono::hours(123456)};
  CHECK(limiter.next(now) == milliseconds(0));
  CHECK(limiter.next(now + milliseconds(2)) == milliseconds(8));
  CHECK(limiter.next(now + milliseconds(10)) == milliseconds(10));
  CHECK(limiter.next(now + milliseconds(95)) == milliseconds(0));
  CHECK(limiter.next(now + milliseconds(95)) == milliseconds(10));
}
