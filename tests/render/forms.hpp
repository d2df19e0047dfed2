#pragma once

#include "render/color.hpp"
#include "render/draw.hpp"

#include <functional>
#include <vector>

namespace landfall::render::checks {

/// What an eye has of a command without its hue.
struct Part {
  enum class Kind : std::uint8_t { disc, ring, arc, line, bar, word };

  Kind kind;
  bool solid = true; ///< Stands out from its ground; else it only covers what lies below.
  double size = 0;   ///< Radius; of a bar and a line its thickness.
  double stroke = 0; ///< Of rings and arcs.

  bool operator==(const Part&) const = default;
};

/// The parts of what is drawn in `with` and not in `without`.
std::vector<Part> form_of(const DrawList& with, const DrawList& without,
                          const std::function<Color(Color)>& eye);

/// Whether two forms differ by more than an eye may miss: another number of parts of a kind, one
/// that is solid and one that is not, a radius that differs by a tenth and a pixel, a stroke or a
/// thickness by two fifths and a pixel.
bool told_apart(const std::vector<Part>& a, const std::vector<Part>& b);

} // namespace landfall::render::checks
