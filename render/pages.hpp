#pragma once

#include "render/bands.hpp"
#include "render/text.hpp"

#include <optional>
#include <string>

namespace landfall::render {

/// The page that is open, over or beside the picture.
void draw_page(Pen& pen, const Frame& frame, const Rect& rect, const Scale& scale);

/// A page's title, and what stands quieter beside it; returns what is left below.
Rect draw_heading(Pen& pen, std::string_view title, std::string_view subtitle,
                  const Palette& colors, const Rect& rect, const Scale& scale);

void draw_help(Pen& pen, const HelpPage& page, const Palette& colors, const Rect& rect,
               const Scale& scale);

/// How many rows of columns of a help page do not fit: the furthest that it scrolls.
int help_rows_left(const HelpPage& page, const Rect& rect, const Scale& scale);

/// The keys of the row of a help page at a point, as it writes them; none elsewhere.
std::optional<std::string> help_keys_at(const HelpPage& page, const Rect& rect, const Scale& scale,
                                        Point point);

void draw_history(Pen& pen, const HistoryPage& page, const Palette& colors, const Rect& rect,
                  const Scale& scale);

void draw_rig(Pen& pen, const RigPage& page, const Palette& colors, const Rect& rect,
              const Scale& scale);

/// Where a list page's parts lie; needs no fonts, so that clicks can be told apart without them.
struct ListGeometry {
  ListGeometry(const ListPage& page, const Rect& rect, const Scale& scale);

  int margin;
  int row_height;
  int title_baseline;
  Rect text;    ///< Of the sentences.
  Rect query;   ///< Empty without a query.
  Rect rows;    ///< Room for rows.
  Rect preview; ///< Empty without a preview.
  Rect hints;   ///< Empty without hints.
  int first;    ///< First row shown.
  int shown;    ///< Number of rows shown.

  Rect row(int index) const;
  std::optional<int> at(Point point) const;
};

} // namespace landfall::render
