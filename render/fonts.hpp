#pragma once

#include "render/draw.hpp"
#include "theory/result.hpp"

#include <array>
#include <memory>
#include <string>

struct SDL_Surface;
struct _TTF_Font; // NOLINT(bugprone-reserved-identifier): SDL_ttf's own name

namespace landfall::render {

/// The file of each Face in a font folder. Signs beside bold letters come from the same file as the
/// others and are thickened.
inline constexpr std::array<const char*, 5> face_files{
    "AtkinsonHyperlegibleNext_400Regular.ttf", "AtkinsonHyperlegibleNext_600SemiBold.ttf",
    "AtkinsonHyperlegibleNext_700Bold.ttf", "NotoMusic-Regular.ttf", "NotoMusic-Regular.ttf"};

/// A page needs 10 to 50.
inline constexpr std::size_t most_open_fonts = 64;

/// The faces of a font folder, each opened once per size, with measured texts remembered. Above
/// `most_open_fonts` those that were used longest ago are closed. One thread only. Needs no video
/// device.
class Fonts final : public TextMetrics {
public:
  /// Opens every face in `folder` once; the error is one line that names the file.
  static Result<std::unique_ptr<Fonts>, std::string> open(const std::string& folder);

  ~Fonts() override;
  Fonts(const Fonts&) = delete;
  Fonts& operator=(const Fonts&) = delete;

  Extent measure(Face face, int size, std::string_view text) const override;

  /// The run in its colour on a transparent ground, owned by the caller; its top lies `ascent`
  /// above the baseline. Null if there is nothing to draw.
  SDL_Surface* rendered(const Text& text) const;
  int ascent(Face face, int size) const;

  /// How many fonts are open now, and how many were ever opened.
  std::size_t open_now() const;
  std::size_t opened() const;

private:
  /// The font of that size (clamped to 4 to 1000); null only if memory or the file has gone.
  _TTF_Font* font(Face face, int size) const;

  explicit Fonts(std::string folder);
  struct Store;
  std::unique_ptr<Store> store_;
};

} // namespace landfall::render
