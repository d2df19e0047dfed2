#pragma once

#include <cstdint>
#include <string_view>

namespace landfall::render {

enum class Face : std::uint8_t { regular, semibold, bold, music, music_bold };

/// Where the ink of a run may lie, in pixels.
struct Extent {
  int width = 0;   ///< Advance.
  int ascent = 0;  ///< Above the baseline.
  int descent = 0; ///< Below the baseline.

  bool operator==(const Extent&) const = default;
};

/// How much room text takes: the layout's only question to the fonts.
class TextMetrics {
public:
  virtual ~TextMetrics() = default;

  /// `size` is the em in pixels, above 0.
  virtual Extent measure(Face face, int size, std::string_view text) const = 0;
};

} // namespace landfall::render
