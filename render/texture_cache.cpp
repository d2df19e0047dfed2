#include "render/texture_cache.hpp"

#include <SDL_render.h>

namespace landfall::render {

namespace {

std::size_t bytes_of(const Sprite& sprite) {
  return static_cast<std::size_t>(sprite.width) * static_cast<std::size_t>(sprite.height) * 4;
}

} // namespace

TextureCache::~TextureCache() {
  clear();
}

void TextureCache::clear() {
  while (!order_.empty())
    drop_oldest();
}

void TextureCache::set_most_bytes(std::size_t most) {
  most_bytes_ = most;
  shrink();
}

Sprite TextureCache::keep(const std::string& key, Sprite sprite) {
  order_.push_front({key, sprite});
  index_[key] = order_.begin();
  bytes_ += bytes_of(sprite);
  shrink();
  return sprite;
}

void TextureCache::shrink() {
  while (bytes_ > most_bytes_ && order_.size() > 1)
    drop_oldest();
}

void TextureCache::drop_oldest() {
  const Entry& oldest = order_.back();
  bytes_ -= bytes_of(oldest.sprite);
  if (oldest.sprite.texture != nullptr)
    SDL_DestroyTexture(oldest.sprite.texture);
  index_.erase(oldest.key);
  order_.pop_back();
}

} // namespace landfall::render
