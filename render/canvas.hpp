#pragma once

#include "render/painter.hpp"

#include <cstdint>
#include <span>

struct SDL_Surface;

namespace landfall::render {

/// A surface in memory, painted by the software renderer; needs no video device. One thread only.
class Canvas {
public:
  /// Sizes from 1x1 to 8192x8192. `fonts` must outlive the canvas.
  static Result<std::unique_ptr<Canvas>, std::string> create(Size size, const Fonts& fonts);
  ~Canvas();
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;

  /// Repaints everything.
  void paint(const DrawList& list);
  /// Repaints what differs from the list painted last, and says where.
  std::vector<Rect> update(const DrawList& list);

  /// Bytes held in textures.
  std::size_t texture_bytes() const;
  /// Pixels that were ever painted, one as often as it was.
  std::uint64_t painted_pixels() const;

  Size size() const { return size_; }
  /// Rows of 0x00RRGGBB, without gaps.
  std::span<const std::uint32_t> pixels() const;

private:
  explicit Canvas(Size size);

  Size size_;
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace landfall::render
