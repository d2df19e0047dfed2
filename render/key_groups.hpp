#pragma once

#include "render/bands.hpp"
#include "render/keyboard_geometry.hpp"
#include "render/text.hpp"

namespace landfall::render {

struct KeyGroupStyle {
  Rect area; ///< Below the keys, for all rows.
  const Palette& colors;
  const Scale& scale;
};

/// A bar for each group in the first row where it meets no other; what finds no room is left out.
void draw_key_groups(Pen& pen, const Keyboard& keyboard, const KeyboardGeometry& geometry,
                     const KeyGroupStyle& style);

} // namespace landfall::render
