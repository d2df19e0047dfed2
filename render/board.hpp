#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// The neck with what it shows; fret numbers stand in `numbers`.
void draw_neck(Pen& pen, const Neck& neck, const Bands& bands, const Palette& colors,
               const Scale& scale);

/// The keyboard with what it shows.
void draw_keyboard(Pen& pen, const Keyboard& keyboard, const Bands& bands, const Palette& colors,
                   const Scale& scale);

} // namespace landfall::render
