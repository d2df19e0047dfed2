#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

#include <optional>
#include <utility>

namespace landfall::render {

// The lines of running text around the picture.

void draw_status(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale);

/// The part of the status line at an x of its row, if any.
std::optional<StatusPart> status_at(const Pen& pen, const Frame& frame, const Rect& row,
                                    const Scale& scale, int x);

void draw_note(Pen& pen, const Frame& frame, const Bands& bands, const Scale& scale);
void draw_footer(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale);

/// The hint at an x of the footer, and the byte in it.
std::optional<std::pair<std::string, std::size_t>>
footer_hint_at(const Pen& pen, const Frame& frame, const Rect& row, const Scale& scale, int x);

/// A lesson's scene: its chord, what is coming, and where it stands in the lesson.
void draw_scene(Pen& pen, const Frame& frame, const Bands& bands, const Scale& scale);

/// Where it stands in its lesson.
void draw_scene_head(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale);

/// Its line to say.
void draw_scene_line(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale);

} // namespace landfall::render
