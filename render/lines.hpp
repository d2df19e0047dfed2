#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

namespace landfall::render {

// The lines of running text around the picture.

void draw_status(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale);
void draw_note(Pen& pen, const Frame& frame, const Bands& bands, const Scale& scale);
void draw_footer(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale);

/// A lesson's scene: its chord, what is coming, and where it stands in the lesson.
void draw_scene(Pen& pen, const Frame& frame, const Bands& bands, const Scale& scale);

/// Its line to say.
void draw_scene_line(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale);

} // namespace landfall::render
