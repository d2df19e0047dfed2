#pragma once

#include "render/draw.hpp"
#include "render/fonts.hpp"

#include <cstdint>
#include <memory>
#include <vector>

struct SDL_Renderer;

namespace landfall::render {

/// The one executor of draw lists. Discs, rings, arcs and texts are kept as textures for as long as
/// the pictures keep their size; the least recently used give way. One thread only, the one that
/// owns the renderer.
class Painter {
public:
  /// Both must outlive the painter.
  Painter(SDL_Renderer* renderer, const Fonts& fonts);
  ~Painter();
  Painter(const Painter&) = delete;
  Painter& operator=(const Painter&) = delete;

  /// Paints the whole list.
  void paint(const DrawList& list);
  /// Paints what lies within `areas`, which must not meet each other.
  void paint(const DrawList& list, const std::vector<Rect>& areas);

  /// Bytes held in textures.
  std::size_t texture_bytes() const;
  /// Pixels of all areas that were ever painted.
  std::uint64_t painted_pixels() const;

private:
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace landfall::render
