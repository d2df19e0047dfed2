#include "render/fonts.hpp"

#include "render/geometry.hpp"

#include <SDL_ttf.h>

#include <cmath>
#include <list>
#include <unordered_map>

namespace landfall::render {

namespace {

constexpr std::size_t most_measured = 4096;

int clamped(int size) {
  return std::clamp(size, 4, 1000);
}

int key_of(Face face, int size) {
  return static_cast<int>(face) * 1024 + clamped(size);
}

int glyph_top(TTF_Font* font, Uint32 glyph) {
  int top = 0;
  TTF_GlyphMetrics32(font, glyph, nullptr, nullptr, nullptr, &top, nullptr);
  return top;
}

int glyph_depth(TTF_Font* font, Uint32 glyph) {
  int bottom = 0;
  TTF_GlyphMetrics32(font, glyph, nullptr, nullptr, &bottom, nullptr, nullptr);
  return std::max(-bottom, 0);
}

bool descends(std::string_view text) {
  return text.find_first_of(",;/()[]gjpqyQ") != std::string_view::npos;
}

/// Ink of capitals and figures, and of what hangs below in this text.
Extent ink(TTF_Font* font, Face face, std::string_view text) {
  if (face != Face::music && face != Face::music_bold)
    return {0, glyph_top(font, 'H'),
            descends(text) ? glyph_depth(font, 'g') : glyph_depth(font, 'o')};
  const Uint32 glyph = text == "♭" ? 0x266D : text == "♮" ? 0x266E : 0x266F;
  return {0, glyph_top(font, glyph), glyph_depth(font, glyph)};
}

/// How much wider a sign's strokes are drawn beside bold letters: whole pixels keep edges sharp.
int thickening(Face face, int size) {
  return face == Face::music_bold ? std::max(1, static_cast<int>(std::lround(size * 0.036))) : 0;
}

/// Opacity `at` pixels into a row, or 0 beside it.
std::uint32_t opacity(const std::uint32_t* row, int width, int at) {
  return at >= 0 && at < width ? row[at] >> 24 : 0;
}

/// One row of `from`, each pixel spread to the right by `amount`.
void spread_row(const std::uint32_t* from, int width, int amount, std::uint32_t* to) {
  for (int x = 0; x < width + amount; ++x) {
    std::uint32_t most = 0;
    for (int back = 0; back <= amount; ++back)
      most = std::max(most, opacity(from, width, x - back));
    to[x] = (from[0] & 0xFFFFFFU) | (most << 24);
  }
}

SDL_Surface* spread(SDL_Surface* from, int amount) {
  SDL_Surface* to =
      SDL_CreateRGBSurfaceWithFormat(0, from->w + amount, from->h, 32, SDL_PIXELFORMAT_ARGB8888);
  for (int y = 0; to != nullptr && y < from->h; ++y)
    spread_row(static_cast<const std::uint32_t*>(from->pixels) + y * from->pitch / 4, from->w,
               amount, static_cast<std::uint32_t*>(to->pixels) + y * to->pitch / 4);
  SDL_FreeSurface(from);
  return to;
}

} // namespace

struct Fonts::Store {
  explicit Store(std::string path) : folder(std::move(path)) {}

  std::string folder;
  bool ready = false;
  struct Opened {
    int key;
    TTF_Font* font;
  };
  std::list<Opened> fonts; ///< The one that was used last in front.
  std::unordered_map<int, std::list<Opened>::iterator> index;
  std::size_t ever_opened = 0;
  std::unordered_map<int, int> ascents; ///< Of fonts that may have been closed again.
  std::unordered_map<std::string, Extent> measured;

  TTF_Font* find(int key) {
    const auto found = index.find(key);
    if (found == index.end())
      return nullptr;
    fonts.splice(fonts.begin(), fonts, found->second);
    return found->second->font;
  }

  void keep(int key, TTF_Font* font) {
    fonts.push_front({key, font});
    index[key] = fonts.begin();
    ++ever_opened;
    while (fonts.size() > most_open_fonts)
      close_oldest();
  }

  void close_oldest() {
    TTF_CloseFont(fonts.back().font);
    index.erase(fonts.back().key);
    fonts.pop_back();
  }
};

Fonts::Fonts(std::string folder) : store_(std::make_unique<Store>(std::move(folder))) {}

Fonts::~Fonts() {
  while (!store_->fonts.empty())
    store_->close_oldest();
  if (store_->ready)
    TTF_Quit();
}

Result<std::unique_ptr<Fonts>, std::string> Fonts::open(const std::string& folder) {
  std::unique_ptr<Fonts> fonts(new Fonts(folder));
  if (TTF_Init() != 0)
    return std::string("fonts cannot be drawn: ") + TTF_GetError();
  fonts->store_->ready = true;
  for (std::size_t face = 0; face < face_files.size(); ++face)
    if (fonts->font(static_cast<Face>(face), 16) == nullptr)
      return "cannot read the font " + folder + "/" + face_files[face] + ": " + TTF_GetError();
  return fonts;
}

_TTF_Font* Fonts::font(Face face, int size) const {
  const int key = key_of(face, size);
  if (TTF_Font* found = store_->find(key); found != nullptr)
    return found;
  const std::string path = store_->folder + "/" + face_files[static_cast<std::size_t>(face)];
  TTF_Font* font = TTF_OpenFont(path.c_str(), clamped(size));
  if (font == nullptr)
    return nullptr;
  TTF_SetFontHinting(font, TTF_HINTING_LIGHT_SUBPIXEL);
  store_->keep(key, font);
  return font;
}

std::size_t Fonts::open_now() const {
  return store_->fonts.size();
}

std::size_t Fonts::opened() const {
  return store_->ever_opened;
}

SDL_Surface* Fonts::rendered(const Text& text) const {
  TTF_Font* opened = font(text.face, text.size);
  const SDL_Color color{text.color.red, text.color.green, text.color.blue, 255};
  SDL_Surface* surface =
      opened == nullptr ? nullptr : TTF_RenderUTF8_Blended(opened, text.text.c_str(), color);
  const int amount = thickening(text.face, text.size);
  return surface == nullptr || amount == 0 ? surface : spread(surface, amount);
}

int Fonts::ascent(Face face, int size) const {
  const int key = key_of(face, size);
  if (const auto found = store_->ascents.find(key); found != store_->ascents.end())
    return found->second;
  TTF_Font* opened = font(face, size);
  return opened == nullptr ? 0 : store_->ascents[key] = TTF_FontAscent(opened);
}

Extent Fonts::measure(Face face, int size, std::string_view text) const {
  std::string key(text);
  key += static_cast<char>(face);
  key += static_cast<char>(size & 0xFF);
  key += static_cast<char>(size >> 8);
  if (const auto found = store_->measured.find(key); found != store_->measured.end())
    return found->second;
  TTF_Font* opened = font(face, size);
  if (opened == nullptr)
    return {};
  Extent extent = ink(opened, face, text);
  TTF_SizeUTF8(opened, std::string(text).c_str(), &extent.width, nullptr);
  extent.width += thickening(face, size);
  if (store_->measured.size() >= most_measured)
    store_->measured.clear();
  store_->measured.emplace(std::move(key), extent);
  return extent;
}

} // namespace landfall::render
