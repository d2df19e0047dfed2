#include "real/screen.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <string_view>
#include <sys/mman.h>
#include <sys/stat.h>
#include <thread>
#include <unistd.h>
#ifdef LANDFALL_X11
#include <X11/Xlib.h>
#endif

namespace landfall::real {
namespace {

/// What the server shows, as it keeps it in a file, an X window dump: a header of big words, a
/// table of colours, and the pixels.
class Shown {
public:
  explicit Shown(const std::string& folder) {
    const int file = open((folder + "/Xvfb_screen0").c_str(), O_RDONLY | O_CLOEXEC);
    struct stat about {};
    if (file >= 0 && fstat(file, &about) == 0 && about.st_size > 0)
      mapped_ =
          mmap(nullptr, static_cast<std::size_t>(about.st_size), PROT_READ, MAP_SHARED, file, 0);
    if (file >= 0)
      close(file);
    if (mapped_ == MAP_FAILED)
      return;
    bytes_ = {static_cast<const char*>(mapped_), static_cast<std::size_t>(about.st_size)};
    constexpr std::size_t header = 0, colours = 19, bytes_a_colour = 12;
    start_ = word(header) + word(colours) * bytes_a_colour;
  }
  ~Shown() {
    if (mapped_ != MAP_FAILED)
      munmap(mapped_, bytes_.size());
  }
  Shown(const Shown&) = delete;
  Shown& operator=(const Shown&) = delete;

  Pixel at(int x, int y) const {
    const auto i = start_ + 4 * static_cast<std::size_t>(y * Picture::width + x);
    return i + 3 < bytes_.size() ? Pixel{byte(i + 2), byte(i + 1), byte(i)} : Pixel{};
  }

private:
  std::uint8_t byte(std::size_t i) const { return static_cast<std::uint8_t>(bytes_[i]); }
  std::size_t word(std::size_t i) const {
    return std::size_t{byte(4 * i)} << 24U | std::size_t{byte(4 * i + 1)} << 16U |
           std::size_t{byte(4 * i + 2)} << 8U | std::size_t{byte(4 * i + 3)};
  }

  void* mapped_ = MAP_FAILED;
  std::string_view bytes_;
  std::size_t start_ = 0;
};

} // namespace

double Picture::brightness() const {
  double sum = 0;
  for (const auto& pixel : pixels)
    sum += pixel.brightness();
  return sum / static_cast<double>(pixels.size());
}

int difference(const Picture& a, const Picture& b) {
  int count = 0;
  for (std::size_t i = 0; i < a.pixels.size(); ++i) {
    const auto& one = a.pixels[i];
    const auto& other = b.pixels[i];
    const int most = std::max({std::abs(one.red - other.red), std::abs(one.green - other.green),
                               std::abs(one.blue - other.blue)});
    count += most > 24 ? 1 : 0;
  }
  return count;
}

Screen::Screen(const std::string& folder) : folder_(folder) {
  if (run({"xdotool", "version"}, folder).exit == 127)
    return;
  const auto size = std::to_string(Picture::width) + "x" + std::to_string(Picture::height) + "x24";
  server_ = std::make_unique<Child>(Command{"Xvfb", "-displayfd", "1", "-screen", "0", size,
                                            "-nolisten", "tcp", "-noreset", "-fbdir", folder},
                                    folder);
  if (eventually([this] {
        return !server_->running() || server_->out().find('\n') != std::string::npos;
      }) &&
      server_->running())
    display_ = ":" + server_->out().substr(0, server_->out().find('\n'));
}

std::string Screen::find_window() const {
  const auto found =
      tool({"xdotool", "search", "--onlyvisible", "--pid", std::to_string(program_)});
  return found.substr(0, found.find('\n'));
}

void Screen::kill() {
  server_->signal(SIGKILL);
  server_->wait();
}

std::string Screen::tool(const Command& command) const {
  return run(command, folder_, environment()).out;
}

Picture Screen::picture() const {
  const Shown shown(folder_);
  Picture picture;
  picture.pixels.reserve(static_cast<std::size_t>(Picture::width * Picture::height));
  for (int y = 0; y < Picture::height; ++y)
    for (int x = 0; x < Picture::width; ++x)
      picture.pixels.push_back(shown.at(x, y));
  return picture;
}

int Screen::share_of(std::initializer_list<Pixel> colours) const {
  constexpr int step = 8;
  const Shown shown(folder_);
  int found = 0, all = 0;
  for (int y = 0; y < Picture::height; y += step)
    for (int x = 0; x < Picture::width; x += step, ++all)
      found += std::find(colours.begin(), colours.end(), shown.at(x, y)) != colours.end();
  return found * 1000 / all;
}

Picture Screen::still_picture(std::chrono::milliseconds calm) const {
  auto before = picture();
  for (int i = 0; i < 10; ++i) {
    std::this_thread::sleep_for(calm);
    auto now = picture();
    if (now == before)
      break;
    before = std::move(now);
  }
  return before;
}

bool Screen::shows_window(const std::string& title) const {
  return !tool({"xdotool", "search", "--onlyvisible", "--name", title}).empty();
}

bool Screen::focus(const Child& program) {
  program_ = program.id();
  // While it starts, SDL tries out windows that are gone at once.
  const auto shown = [&] {
    window_ = find_window();
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    return !window_.empty() && find_window() == window_;
  };
  return eventually([&] {
    if (!shown())
      return false;
    tool({"xdotool", "windowfocus", "--sync", window_});
    const auto focused = tool({"xdotool", "getwindowfocus"});
    return focused.substr(0, focused.find('\n')) == window_;
  });
}

bool Screen::ask_to_close() const {
#ifdef LANDFALL_X11
  Display* display = XOpenDisplay(display_.c_str());
  const auto window = find_window();
  if (display == nullptr || window.empty())
    return false;
  XEvent event{};
  event.xclient.type = ClientMessage;
  event.xclient.window = std::stoul(window);
  event.xclient.message_type = XInternAtom(display, "WM_PROTOCOLS", False);
  event.xclient.format = 32;
  event.xclient.data.l[0] = static_cast<long>(XInternAtom(display, "WM_DELETE_WINDOW", False));
  XSendEvent(display, event.xclient.window, False, NoEventMask, &event);
  XCloseDisplay(display);
  return true;
#else
  return false;
#endif
}

void Screen::resize(int width, int height) const {
  tool({"xdotool", "windowsize", "--sync", window_, std::to_string(width), std::to_string(height)});
}

void Screen::press(const std::string& key) const {
  tool({"xdotool", "key", key});
}

void Screen::type(const std::string& text) const {
  tool({"xdotool", "type", "--delay", "20", "--", text});
}

void Screen::point(int x, int y) const {
  tool({"xdotool", "mousemove", "--sync", std::to_string(x), std::to_string(y)});
}

void Screen::click(int x, int y) const {
  tool({"xdotool", "mousemove", std::to_string(x), std::to_string(y), "click", "1"});
}

void Screen::hold_button() const {
  tool({"xdotool", "mousedown", "1"});
}

void Screen::release_button() const {
  tool({"xdotool", "mouseup", "1"});
}

void say_why_not(const Screen& screen) {
  if (!screen.running())
    MESSAGE("skipped: Xvfb or xdotool is not installed");
}

} // namespace landfall::real
