#pragma once

#include "render/draw.hpp"
#include "render/fonts.hpp"
#include "render/input.hpp"

#include <chrono>
#include <cstdint>
#include <memory>
#include <vector>

namespace landfall::render {

struct WindowOptions {
  std::string title = "Landfall";
  std::string font_folder;
  Size size{1280, 720}; ///< In the desktop's units; at least 800x450.
  int display = 0;      ///< From 0; one that does not exist means the first.
  bool full_screen = false;
  bool software = false; ///< Paint without the graphics processor, as LANDFALL_SOFTWARE=1 does.
};

/// A window. Every function must be called on the thread that opened it. Of several, the one that
/// was opened first gets what is typed into any.
class Window {
public:
  /// Starts SDL's video and nothing else of it, and leaves signals alone. The error is one line.
  static Result<std::unique_ptr<Window>, std::string> open(const WindowOptions& options);
  ~Window();
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  /// Pixels of the picture to lay out.
  Size size() const;
  /// The fonts, for layout().
  const Fonts& fonts() const;

  /// What happened to this window since the last call; waits up to `wait` for anything at all.
  std::vector<Input> events(std::chrono::milliseconds wait);

  /// Shows the list; does nothing when it equals the one shown. True when something was painted.
  bool present(const DrawList& list);

  /// Sleeps so that frames do not exceed the display's rate, even where nothing else paces them.
  void pace();

  void set_title(const std::string& title);
  void set_full_screen(bool full);
  bool full_screen() const;

  /// What paints: `software`, or the name of a driver.
  std::string painter_name() const;
  /// Pixels that were ever copied to the screen.
  std::uint64_t copied_pixels() const;
  static int display_count();

private:
  Window();
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace landfall::render
