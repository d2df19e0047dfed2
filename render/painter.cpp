#include "render/painter.hpp"

#include "render/coverage.hpp"
#include "render/texture_cache.hpp"

#include <SDL.h>

#include <algorithm>

namespace landfall::render {

namespace {

/// What the textures may take: twice the picture, which is about twice what its busiest page needs
/// at once; the rest are arcs as they were before.
std::size_t texture_room(Size size) {
  const auto picture =
      static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height) * 4;
  return std::clamp(2 * picture, std::size_t{4} << 20, std::size_t{24} << 20);
}

SDL_Rect sdl(const Rect& r) {
  return {r.x, r.y, r.width, r.height};
}

/// A texture of `color`, as opaque as the shape covers each pixel.
Sprite sprite_of(SDL_Renderer* renderer, const Coverage& coverage, Color color) {
  std::vector<std::uint32_t> pixels(coverage.pixels.size());
  for (std::size_t i = 0; i < pixels.size(); ++i)
    pixels[i] = (std::uint32_t{coverage.pixels[i]} << 24) | packed(color);
  SDL_Surface* surface =
      SDL_CreateRGBSurfaceWithFormatFrom(pixels.data(), coverage.width, coverage.height, 32,
                                         coverage.width * 4, SDL_PIXELFORMAT_ARGB8888);
  if (surface == nullptr)
    return {};
  Sprite sprite{SDL_CreateTextureFromSurface(renderer, surface), coverage.width, coverage.height};
  SDL_FreeSurface(surface);
  if (sprite.texture != nullptr)
    SDL_SetTextureBlendMode(sprite.texture, SDL_BLENDMODE_BLEND);
  return sprite;
}

/// The bytes of plain values, as a key.
template <typename... Values> std::string key_of(char kind, Values... values) {
  std::string key(1, kind);
  (key.append(reinterpret_cast<const char*>(&values), sizeof values), ...);
  return key;
}

} // namespace

struct Painter::State {
  State(SDL_Renderer* target, const Fonts& faces) : renderer(target), fonts(faces) {}

  SDL_Renderer* renderer;
  const Fonts& fonts;
  TextureCache textures{0};
  Size size; ///< Of the pictures that the textures are for.
  Rect area; ///< Being painted.
  Rect clip; ///< Set by the list.
  std::uint64_t painted = 0;

  /// Hardly any texture of one size is of use in another.
  void make_room(Size wanted) {
    if (size == wanted)
      return;
    size = wanted;
    textures.clear();
    textures.set_most_bytes(texture_room(size));
  }

  void set_clip() {
    const SDL_Rect rect = sdl(intersection(area, clip));
    SDL_RenderSetClipRect(renderer, &rect);
  }

  void blit(const Sprite& sprite, int x, int y) {
    const SDL_Rect to{x, y, sprite.width, sprite.height};
    if (sprite.texture != nullptr)
      SDL_RenderCopy(renderer, sprite.texture, nullptr, &to);
  }

  void blit_centred(const Sprite& sprite, Point at) {
    blit(sprite, at.x - sprite.width / 2, at.y - sprite.height / 2);
  }

  Sprite rendered(const Text& text) {
    SDL_Surface* surface = fonts.rendered(text);
    if (surface == nullptr)
      return {};
    const Sprite sprite{SDL_CreateTextureFromSurface(renderer, surface), surface->w, surface->h};
    SDL_FreeSurface(surface);
    return sprite;
  }

  void operator()(const Fill& c) {
    SDL_SetRenderDrawColor(renderer, c.color.red, c.color.green, c.color.blue, 255);
    const SDL_Rect rect = sdl(c.rect);
    SDL_RenderFillRect(renderer, &rect);
  }
  void operator()(const Disc& c) {
    blit_centred(
        textures.get(key_of('d', c.radius, packed(c.color)),
                     [&] { return sprite_of(renderer, disc_coverage(c.radius), c.color); }),
        c.center);
  }
  void operator()(const Ring& c) {
    blit_centred(textures.get(key_of('r', c.radius, c.stroke, packed(c.color)),
                              [&] {
                                return sprite_of(renderer, ring_coverage(c.radius, c.stroke),
                                                 c.color);
                              }),
                 c.center);
  }
  void operator()(const Arc& c) {
    const float sweep = static_cast<float>(c.sweep) / full_sweep;
    blit_centred(textures.get(key_of('a', c.radius, c.stroke, c.sweep, packed(c.color)),
                              [&] {
                                return sprite_of(renderer, arc_coverage(c.radius, c.stroke, sweep),
                                                 c.color);
                              }),
                 c.center);
  }
  void operator()(const Line& c) {
    const int across = c.to.x - c.from.x, down = c.to.y - c.from.y;
    const Sprite sprite = textures.get(key_of('l', across, down, c.stroke, packed(c.color)), [&] {
      return sprite_of(renderer, line_coverage(across, down, c.stroke), c.color);
    });
    const Rect room = bounds(c);
    blit(sprite, room.x, room.y);
  }
  void operator()(const Text& c) {
    const Sprite sprite = textures.get(key_of('t', c.face, c.size, packed(c.color)) + c.text,
                                       [&] { return rendered(c); });
    blit(sprite, c.at.x, c.at.y - fonts.ascent(c.face, c.size));
  }
  void operator()(const Clip& c) {
    clip = c.rect;
    set_clip();
  }

  void paint(const DrawList& list, const Rect& rect) {
    area = rect;
    painted += static_cast<std::uint64_t>(area.width) * static_cast<std::uint64_t>(area.height);
    clip = {0, 0, list.size.width, list.size.height};
    set_clip();
    for (const Command& command : list.commands)
      if (std::holds_alternative<Clip>(command) || meet(painted_bounds(command), area))
        std::visit(*this, command);
  }
};

Painter::Painter(SDL_Renderer* renderer, const Fonts& fonts)
    : state_(std::make_unique<State>(renderer, fonts)) {}

Painter::~Painter() = default;

void Painter::paint(const DrawList& list) {
  paint(list, {{0, 0, list.size.width, list.size.height}});
}

void Painter::paint(const DrawList& list, const std::vector<Rect>& areas) {
  state_->make_room(list.size);
  for (const Rect& area : areas)
    state_->paint(list, area);
  SDL_RenderSetClipRect(state_->renderer, nullptr);
}

std::size_t Painter::texture_bytes() const {
  return state_->textures.bytes();
}

std::uint64_t Painter::painted_pixels() const {
  return state_->painted;
}

} // namespace landfall::render
