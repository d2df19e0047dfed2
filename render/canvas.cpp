#include "render/canvas.hpp"

#include "render/changes.hpp"

#include <SDL.h>

namespace landfall::render {

struct Canvas::State {
  SDL_Surface* surface = nullptr;
  SDL_Renderer* renderer = nullptr;
  std::unique_ptr<Painter> painter;
  ChangeFinder changes;

  ~State() {
    painter.reset();
    if (renderer != nullptr)
      SDL_DestroyRenderer(renderer);
    SDL_FreeSurface(surface);
  }
};

Canvas::Canvas(Size size) : size_(size), state_(std::make_unique<State>()) {}

Canvas::~Canvas() = default;

Result<std::unique_ptr<Canvas>, std::string> Canvas::create(Size size, const Fonts& fonts) {
  constexpr int most = 8192;
  if (size.width < 1 || size.height < 1 || size.width > most || size.height > most)
    return std::string("a picture must be between 1x1 and 8192x8192 pixels");
  std::unique_ptr<Canvas> canvas(new Canvas(size));
  State& state = *canvas->state_;
  state.surface =
      SDL_CreateRGBSurfaceWithFormat(0, size.width, size.height, 32, SDL_PIXELFORMAT_RGB888);
  if (state.surface != nullptr)
    state.renderer = SDL_CreateSoftwareRenderer(state.surface);
  if (state.renderer == nullptr)
    return std::string("cannot paint in memory: ") + SDL_GetError();
  state.painter = std::make_unique<Painter>(state.renderer, fonts);
  return canvas;
}

void Canvas::paint(const DrawList& list) {
  state_->changes.forget();
  update(list);
}

std::vector<Rect> Canvas::update(const DrawList& list) {
  std::vector<Rect> areas = state_->changes.changed(list);
  state_->painter->paint(list, areas);
  SDL_RenderFlush(state_->renderer);
  return areas;
}

std::size_t Canvas::texture_bytes() const {
  return state_->painter->texture_bytes();
}

std::uint64_t Canvas::painted_pixels() const {
  return state_->painter->painted_pixels();
}

std::span<const std::uint32_t> Canvas::pixels() const {
  return {static_cast<const std::uint32_t*>(state_->surface->pixels),
          static_cast<std::size_t>(size_.width) * static_cast<std::size_t>(size_.height)};
}

} // namespace landfall::render
