#include "render/screen.hpp"

#include <SDL.h>

namespace landfall::render {

namespace {

/// An OpenGL that is itself computed by the processor is slower than painting in memory.
bool computed_in_software() {
  using GetString = const unsigned char* (*)(unsigned);
  constexpr unsigned gl_renderer = 0x1F01;
  const auto get_string = reinterpret_cast<GetString>(SDL_GL_GetProcAddress("glGetString"));
  if (get_string == nullptr || SDL_GL_GetCurrentContext() == nullptr)
    return false;
  const unsigned char* answer = get_string(gl_renderer);
  const std::string name = answer == nullptr ? "" : reinterpret_cast<const char*>(answer);
  for (const char* software : {"llvmpipe", "softpipe", "swrast", "Software Rasterizer"})
    if (name.find(software) != std::string::npos)
      return true;
  return false;
}

std::uint64_t pixels_in(int width, int height) {
  return static_cast<std::uint64_t>(width) * static_cast<std::uint64_t>(height);
}

class GpuScreen final : public Screen {
public:
  GpuScreen(SDL_Renderer* renderer, const Fonts& fonts)
      : renderer_(renderer), fonts_(fonts), painter_(std::make_unique<Painter>(renderer, fonts)) {}

  ~GpuScreen() override {
    painter_.reset();
    SDL_DestroyRenderer(renderer_);
  }

  Size size() const override {
    Size size;
    SDL_GetRendererOutputSize(renderer_, &size.width, &size.height);
    return size;
  }

  void show(const DrawList& list) override {
    painter_->paint(list);
    SDL_RenderPresent(renderer_);
    copied_ += pixels_in(list.size.width, list.size.height);
  }

  void forget() override { painter_ = std::make_unique<Painter>(renderer_, fonts_); }

  std::string name() const override {
    SDL_RendererInfo info{};
    SDL_GetRendererInfo(renderer_, &info);
    return info.name == nullptr ? "unknown" : info.name;
  }

  std::uint64_t copied_pixels() const override { return copied_; }

private:
  SDL_Renderer* renderer_;
  const Fonts& fonts_;
  std::uint64_t copied_ = 0;
  std::unique_ptr<Painter> painter_;
};

class SoftwareScreen final : public Screen {
public:
  SoftwareScreen(SDL_Window* window, const Fonts& fonts) : window_(window), fonts_(fonts) {}

  ~SoftwareScreen() override { release(); }

  Size size() const override {
    Size size;
    SDL_GetWindowSizeInPixels(window_, &size.width, &size.height);
    return size;
  }

  void show(const DrawList& list) override {
    if (!prepare())
      return;
    const std::vector<Rect> areas = changes_.changed(list);
    painter_->paint(list, areas);
    SDL_RenderFlush(renderer_);
    std::vector<SDL_Rect> copied;
    for (const Rect& area : areas) {
      copied.push_back({area.x, area.y, area.width, area.height});
      copied_ += pixels_in(area.width, area.height);
    }
    if (!copied.empty())
      SDL_UpdateWindowSurfaceRects(window_, copied.data(), static_cast<int>(copied.size()));
  }

  void forget() override { changes_.forget(); }

  std::string name() const override { return "software"; }

  std::uint64_t copied_pixels() const override { return copied_; }

private:
  /// The window's surface is another one after every change of size.
  bool prepare() {
    SDL_Surface* surface = SDL_GetWindowSurface(window_);
    if (surface == nullptr)
      return false;
    if (renderer_ != nullptr && surface == surface_ && surface->pixels == pixels_)
      return true;
    release();
    renderer_ = SDL_CreateSoftwareRenderer(surface);
    if (renderer_ == nullptr)
      return false;
    surface_ = surface;
    pixels_ = surface->pixels;
    painter_ = std::make_unique<Painter>(renderer_, fonts_);
    changes_.forget();
    return true;
  }

  void release() {
    painter_.reset();
    if (renderer_ != nullptr)
      SDL_DestroyRenderer(renderer_);
    renderer_ = nullptr;
  }

  SDL_Window* window_;
  const Fonts& fonts_;
  SDL_Surface* surface_ = nullptr;
  void* pixels_ = nullptr;
  SDL_Renderer* renderer_ = nullptr;
  std::unique_ptr<Painter> painter_;
  ChangeFinder changes_;
  std::uint64_t copied_ = 0;
};

} // namespace

std::unique_ptr<Screen> gpu_screen(SDL_Window* window, const Fonts& fonts) {
  SDL_Renderer* renderer =
      SDL_CreateRenderer(window, -1, SDL_RENDERER_ACCELERATED | SDL_RENDERER_PRESENTVSYNC);
  if (renderer == nullptr)
    return nullptr;
  auto screen = std::make_unique<GpuScreen>(renderer, fonts);
  return screen->name() == "software" || computed_in_software() ? nullptr : std::move(screen);
}

std::unique_ptr<Screen> software_screen(SDL_Window* window, const Fonts& fonts) {
  return std::make_unique<SoftwareScreen>(window, fonts);
}

} // namespace landfall::render
