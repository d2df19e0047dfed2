#pragma once

#include "render/frame.hpp"
#include "render/geometry.hpp"
#include "render/style.hpp"

namespace landfall::render {

/// Where the parts of the window stand. Top to bottom: status, lane (or scene), note, board with
/// its numbers, reel, footer. A page beside the picture takes the right; the places of
/// a key take the board.
/// Where a board stands.
struct BoardBands {
  Rect board;   ///< Strings and frets, or keys.
  Rect groups;  ///< Between the two, for the groups on a keyboard; else empty.
  Rect numbers; ///< Fret numbers, or names of keys.
};

struct Bands {
  Rect status;
  Rect lane;
  Rect note;        ///< Notice and message.
  BoardBands own;   ///< The player's board.
  BoardBands other; ///< A second player's at its left, or empty.
  Rect reel;        ///< Over the footer, where a frame has one; else empty.
  Rect footer;
  Rect page; ///< Of the page that is open, or empty.
};

Bands bands(const Frame& frame, Size window);

/// Whether a scene stands in place of status line, lane and footer.
bool on_stage(const Frame& frame);

/// Whether a page takes the board's place and leaves the lane.
bool on_board(const Page& page);

/// Whether a page lies over everything but the topmost line.
bool covers(const Page& page);

/// Whether the topmost line tells where a lesson stands, and not the status.
bool shows_scene_head(const Frame& frame);

/// Rows for groups on a keyboard.
inline constexpr int group_rows = 3;

} // namespace landfall::render
