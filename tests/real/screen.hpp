#pragma once

#include "real/child.hpp"

#include <cstdint>
#include <initializer_list>
#include <memory>
#include <optional>

namespace landfall::real {

struct Pixel {
  std::uint8_t red = 0, green = 0, blue = 0;

  bool operator==(const Pixel&) const = default;
  int brightness() const { return (red + green + blue) / 3; }
};

/// What the screen shows, row by row.
struct Picture {
  static constexpr int width = 1280, height = 720;
  std::vector<Pixel> pixels;

  bool operator==(const Picture&) const = default;
  Pixel at(int x, int y) const { return pixels[static_cast<std::size_t>(y * width + x)]; }
  double brightness() const; ///< Mean, 0 to 255.
};

/// How many pixels differ visibly.
int difference(const Picture& a, const Picture& b);

/// A screen of its own without a window manager, with a hand on its keys and its mouse.
class Screen {
public:
  explicit Screen(const std::string& folder);

  /// False where the screen or its tools are not installed.
  bool running() const { return !display_.empty(); }
  /// As when the screen's server crashes.
  void kill();
  Environment environment() const { return {{"DISPLAY", display_}, {"SDL_VIDEODRIVER", "x11"}}; }

  /// Read from the server's own memory: looking costs the program nothing.
  Picture picture() const;
  /// How many of a thousand pixels have exactly one of these colours, from every eighth row and
  /// column. Quicker than a picture.
  int share_of(std::initializer_list<Pixel> colours) const;
  /// The first picture that is the same for `calm`; the last one if that never comes.
  Picture still_picture(std::chrono::milliseconds calm = std::chrono::milliseconds(400)) const;

  /// Waits for the window of a program to be shown, and gives it the keys.
  bool focus(const Child& program);
  /// Whether a window is shown whose title has these words.
  bool shows_window(const std::string& title) const;
  /// As a window manager does when its button is pressed. False where that can't be done.
  bool ask_to_close() const;
  void resize(int width, int height) const;
  /// Keys by their X names: "space", "ctrl+q".
  void press(const std::string& key) const;
  /// Characters, one after another.
  void type(const std::string& text) const;
  void point(int x, int y) const;
  void click(int x, int y) const;
  void hold_button() const;
  void release_button() const;

private:
  std::string tool(const Command& command) const;
  std::string find_window() const;

  std::string folder_, display_, window_;
  pid_t program_ = -1;
  std::unique_ptr<Child> server_;
};

/// Says why there is no screen, where there is none.
void say_why_not(const Screen& screen);

} // namespace landfall::real
