#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// Side of the square around a close mark that takes clicks, for a heading in this size.
int close_side(int heading, const Scale& scale);

/// Where the mark stands that closes the page that is open: at the right of its heading. Empty
/// where there is no page.
Rect close_mark(const Frame& frame, const Bands& bands, const Scale& scale);

/// A small, quiet cross in it.
void draw_close_mark(Pen& pen, const Frame& frame, const Bands& bands, const Scale& scale);

} // namespace landfall::render
