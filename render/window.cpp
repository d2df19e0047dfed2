#include "render/window.hpp"

#include "render/frame_limiter.hpp"
#include "render/screen.hpp"
#include "render/sdl_input.hpp"

#include <SDL.h>

#include <cstdlib>
#include <cstring>
#include <optional>
#include <thread>
#include <utility>

namespace landfall::render {

namespace {

constexpr Size least{800, 450};

/// Of a frame, a little less than the display's, so that waiting for it is left to the display
/// where it can.
FrameLimiter::Duration frame_period(SDL_Window* window) {
  SDL_DisplayMode mode{};
  const bool known = SDL_GetWindowDisplayMode(window, &mode) == 0 && mode.refresh_rate > 0;
  const int rate = known ? std::clamp(mode.refresh_rate, 24, 240) : 60;
  return std::chrono::nanoseconds(970'000'000 / rate);
}

bool software_asked(const WindowOptions& options) {
  const char* value = std::getenv("LANDFALL_SOFTWARE");
  return options.software || (value != nullptr && *value != '\0' && *value != '0');
}

SDL_Window* create_window(const WindowOptions& options) {
  const int display =
      options.display > 0 && options.display < SDL_GetNumVideoDisplays() ? options.display : 0;
  const unsigned screen = static_cast<unsigned>(display);
  const int at = static_cast<int>(SDL_WINDOWPOS_CENTERED_DISPLAY(screen));
  const Uint32 flags = SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI |
                       (options.full_screen ? SDL_WINDOW_FULLSCREEN_DESKTOP : 0);
  SDL_Window* window =
      SDL_CreateWindow(options.title.c_str(), at, at, std::max(options.size.width, least.width),
                       std::max(options.size.height, least.height), flags);
  if (window != nullptr)
    SDL_SetWindowMinimumSize(window, least.width, least.height);
  return window;
}

} // namespace

struct Window::State {
  std::unique_ptr<Fonts> fonts;
  bool video = false;
  SDL_Window* window = nullptr;
  std::unique_ptr<Screen> screen;
  std::optional<DrawList> shown;
  FrameLimiter limiter{std::chrono::milliseconds(16)};
  std::vector<Input> inputs; ///< Not yet asked for.

  static std::vector<State*>& all() {
    static std::vector<State*> open;
    return open;
  }

  /// Whose event it is; the first for what is typed.
  static State& owner_of(const SDL_Event& event) {
    for (auto* state : all())
      if (SDL_GetWindowID(state->window) == window_of(event))
        return *state;
    return *all().front();
  }

  void take(const SDL_Event& event) {
    Size units;
    SDL_GetWindowSize(window, &units.width, &units.height);
    append_input(event, units, screen->size(), inputs);
  }

  ~State() {
    std::erase(all(), this);
    screen.reset();
    if (window != nullptr)
      SDL_DestroyWindow(window);
    if (video)
      SDL_QuitSubSystem(SDL_INIT_VIDEO);
  }

  /// A window that was made for a graphics processor is made anew for painting in memory.
  bool create(const WindowOptions& options) {
    window = create_window(options);
    if (window == nullptr)
      return false;
    if (!software_asked(options))
      screen = gpu_screen(window, *fonts);
    if (screen == nullptr && !software_asked(options)) {
      SDL_DestroyWindow(window);
      window = create_window(options);
    }
    if (window != nullptr && screen == nullptr)
      screen = software_screen(window, *fonts);
    return screen != nullptr;
  }

  void forget() {
    shown.reset();
    screen->forget();
  }
};

Window::Window() : state_(std::make_unique<State>()) {}
Window::~Window() = default;

namespace {

/// SDL falls back to drivers that show nothing; unless one was asked for, that is no screen.
bool has_screen() {
  const char* driver = SDL_GetCurrentVideoDriver();
  const bool unseen = driver == nullptr || std::strcmp(driver, "offscreen") == 0 ||
                      std::strcmp(driver, "dummy") == 0 || std::strcmp(driver, "evdev") == 0;
  return !unseen || SDL_getenv("SDL_VIDEODRIVER") != nullptr;
}

} // namespace

Result<std::unique_ptr<Window>, std::string> Window::open(const WindowOptions& options) {
  auto fonts = Fonts::open(options.font_folder);
  if (!fonts)
    return fonts.error();
  std::unique_ptr<Window> window(new Window);
  State& state = *window->state_;
  state.fonts = std::move(*fonts);
  SDL_SetHint(SDL_HINT_NO_SIGNAL_HANDLERS, "1");
  SDL_SetHint(SDL_HINT_FRAMEBUFFER_ACCELERATION, "0");
  SDL_SetHint(SDL_HINT_RENDER_SCALE_QUALITY, "nearest");
  if (SDL_InitSubSystem(SDL_INIT_VIDEO) != 0)
    return std::string("no window can be opened: ") + SDL_GetError();
  state.video = true;
  if (!has_screen())
    return std::string("there is no screen to open a window on (`landfall play SONG` needs none)");
  if (!state.create(options))
    return std::string("no window can be opened: ") + SDL_GetError();
  state.limiter = FrameLimiter(frame_period(state.window));
  State::all().push_back(&state);
  SDL_StartTextInput();
  return window;
}

Size Window::size() const {
  return state_->screen->size();
}
const Fonts& Window::fonts() const {
  return *state_->fonts;
}

std::vector<Input> Window::events(std::chrono::milliseconds wait) {
  SDL_Event event;
  bool more = wait.count() > 0 ? SDL_WaitEventTimeout(&event, static_cast<int>(wait.count())) != 0
                               : SDL_PollEvent(&event) != 0;
  for (; more; more = SDL_PollEvent(&event) != 0) {
    if (pictures_lost(event))
      for (auto* state : State::all())
        state->forget();
    State::owner_of(event).take(event);
  }
  return std::exchange(state_->inputs, {});
}

bool Window::present(const DrawList& list) {
  if (state_->shown == list)
    return false;
  state_->screen->show(list);
  state_->shown = list;
  return true;
}

void Window::pace() {
  std::this_thread::sleep_for(state_->limiter.next(std::chrono::steady_clock::now()));
}

void Window::set_title(const std::string& title) {
  SDL_SetWindowTitle(state_->window, title.c_str());
}

void Window::set_full_screen(bool full) {
  SDL_SetWindowFullscreen(state_->window, full ? SDL_WINDOW_FULLSCREEN_DESKTOP : 0);
}

bool Window::full_screen() const {
  return (SDL_GetWindowFlags(state_->window) & SDL_WINDOW_FULLSCREEN_DESKTOP) != 0;
}

std::string Window::painter_name() const {
  return state_->screen->name();
}

std::uint64_t Window::copied_pixels() const {
  return state_->screen->copied_pixels();
}

int Window::display_count() {
  return std::max(SDL_GetNumVideoDisplays(), 0);
}

} // namespace landfall::render
