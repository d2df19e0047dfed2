#pragma once

#include "app/sheet_pen.hpp"

namespace landfall::app::sheet {

/// Something that is never cut by a page's end, drawn from its own top left corner.
struct Block {
  std::string what; ///< For people and tests: `title`, `bars 1 to 4`, `Am7`.
  std::vector<Mark> marks;
  double height = 0;
  double above = 10;      ///< Space before it, left out at a page's top.
  bool with_next = false; ///< Stands on the same page as the block after it, if that can be.
};

/// The blocks one below another on as many pages as they need, each with the title and its number
/// at its foot. No block is higher than a page's room.
Sheet flow(const std::string& title, std::vector<Block> blocks, const Paper& paper,
           const render::TextMetrics& metrics);

/// The height that blocks have on a page.
double page_room(const Paper& paper);

} // namespace landfall::app::sheet
