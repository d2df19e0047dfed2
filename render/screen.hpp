#pragma once

#include "render/changes.hpp"
#include "render/painter.hpp"

#include <cstdint>
#include <memory>
#include <string>

struct SDL_Window;

namespace landfall::render {

/// Brings draw lists onto a window, one way or another. One thread only.
class Screen {
public:
  virtual ~Screen() = default;
  virtual Size size() const = 0;
  virtual void show(const DrawList& list) = 0;
  /// What is on the screen, or in textures, may be lost.
  virtual void forget() = 0;
  virtual std::string name() const = 0;
  /// Pixels that were ever copied to the window.
  virtual std::uint64_t copied_pixels() const = 0;
};

/// On the graphics processor, in step with the display; null where there is none.
std::unique_ptr<Screen> gpu_screen(SDL_Window* window, const Fonts& fonts);

/// In memory; copies only what changed to the window.
std::unique_ptr<Screen> software_screen(SDL_Window* window, const Fonts& fonts);

} // namespace landfall::render
