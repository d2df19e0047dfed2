#pragma once

#include <cstddef>
#include <list>
#include <string>
#include <unordered_map>

struct SDL_Texture;

namespace landfall::render {

/// A texture and its size in pixels; null for a shape without any pixels.
struct Sprite {
  SDL_Texture* texture = nullptr;
  int width = 0;
  int height = 0;
};

/// Textures by what they show; the least recently used are destroyed above a number of bytes.
class TextureCache {
public:
  explicit TextureCache(std::size_t most_bytes) : most_bytes_(most_bytes) {}
  ~TextureCache();
  TextureCache(const TextureCache&) = delete;
  TextureCache& operator=(const TextureCache&) = delete;

  /// The sprite called `key`, made by `make()` when it is not there. Valid until the next call.
  template <typename Make> Sprite get(const std::string& key, Make make) {
    if (const auto found = index_.find(key); found != index_.end()) {
      order_.splice(order_.begin(), order_, found->second);
      return found->second->sprite;
    }
    return keep(key, make());
  }

  std::size_t bytes() const { return bytes_; }

  void set_most_bytes(std::size_t most);
  void clear();

private:
  struct Entry {
    std::string key;
    Sprite sprite;
  };

  Sprite keep(const std::string& key, Sprite sprite);
  void shrink();
  void drop_oldest();

  std::size_t most_bytes_;
  std::size_t bytes_ = 0;
  std::list<Entry> order_;
  std::unordered_map<std::string, std::list<Entry>::iterator> index_;
};

} // namespace landfall::render
