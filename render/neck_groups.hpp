#pragma once

#include "render/neck_geometry.hpp"
#include "render/style.hpp"
#include "render/text.hpp"

namespace landfall::render {

struct GroupStyle {
  const Palette& colors;
  int name_size = 0; ///< At most; 0 for no names.
};

/// The lines that join the places of each group; the discs are drawn over them.
void draw_groups(Pen& pen, const Neck& neck, const NeckGeometry& geometry, const GroupStyle& style);

} // namespace landfall::render
