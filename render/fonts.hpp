#pragma once

#include "render/metrics.hpp"
#include "theory/result.hpp"

#include <memory>
#include <string>

struct _TTF_Font; // NOLINT(bugprone-reserved-identifier): SDL_ttf's own name

namespace landfall::render {

/// The faces of a font folder, opened once per size, with measured texts remembered.
/// One thread only. Needs no video device.
class Fonts final : public TextMetrics {
public:
  /// Opens every face in `folder` once; the error is one line that names the file.
  static Result<std::unique_ptr<Fonts>, std::string> open(const std::string& folder);

  ~Fonts() override;
  Fonts(const Fonts&) = delete;
  Fonts& operator=(const Fonts&) = delete;

  Extent measure(Face face, int size, std::string_view text) const override;

  /// The font of that size (clamped to 4 to 1000); null only if memory or the file has gone.
  _TTF_Font* font(Face face, int size) const;

private:
  explicit Fonts(std::string folder);
  struct Store;
  std::unique_ptr<Store> store_;
};

} // namespace landfall::render
