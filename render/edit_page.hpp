#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

#include <optional>
#include <string_view>

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

/// Text of a field, or its hint, in the middle of `row`, with the caret where it has one, in bytes.
/// A text that is too long is shown around the caret.
void draw_field_text(Pen& pen, const Setting& setting, std::string_view text, std::string_view hint,
                     std::optional<std::size_t> caret, const Rect& row, const Palette& colors,
                     const Scale& scale);

/// The byte in such a text that an x of the window means.
std::size_t byte_at(const Pen& pen, const Setting& setting, std::string_view text,
                    std::optional<std::size_t> caret, const Rect& row, const Scale& scale, int x);

/// A field, and the byte in it; behind the last field, the lines, joined by line breaks.
struct EditPlace {
  int field = 0;
  std::size_t byte = 0;
};

std::optional<EditPlace> edit_place(const Pen& pen, const EditPage& page, const Rect& rect,
                                    const Scale& scale, Point point);

void draw_edit(Pen& pen, const EditPage& page, const Palette& colors, const Rect& rect,
               const Scale& scale);

} // namespace landfall::render
