#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

#include <optional>

namespace landfall::render {

/// Where the parts of an edit page lie; needs no fonts.
struct EditGeometry {
  EditGeometry(const EditPage& page, const Rect& rect, const Scale& scale);

  Rect heading;
  Rect field_row; ///< Labels above values.
  Rect lines;
  Rect foot; ///< What is wrong.
  int field_width = 1;
  int line_height = 1;

  Rect field(int index) const;
  /// The field at a point; behind the last one, the lines. None elsewhere.
  std::optional<int> at(const EditPage& page, Point point) const;
};

void draw_edit(Pen& pen, const EditPage& page, const Palette& colors, const Rect& rect,
               const Scale& scale);

} // namespace landfall::render
