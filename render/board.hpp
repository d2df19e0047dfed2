#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

#include <string>

namespace landfall::render {

/// Where a neck is drawn.
struct NeckArea {
  Rect board;             ///< Strings and frets; crosses at muted strings stand beside it.
  Rect numbers;           ///< Fret numbers.
  int name_size = 0;      ///< Of the names of groups, at most; 0 for none.
  double most_unit = 1e9; ///< Marks are drawn no larger than this unit allows.
};

void draw_neck(Pen& pen, const Neck& neck, const NeckArea& area, const Palette& colors,
               const Scale& scale);

/// The keyboard with what it shows.
void draw_keyboard(Pen& pen, const Keyboard& keyboard, const BoardBands& bands,
                   const Palette& colors, const Scale& scale);

/// What is said above the board: its caption, and the name of the group that has the focus.
std::string board_caption(const Frame& frame);

} // namespace landfall::render
