#pragma once

#include "render/chord_text.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace landfall::render {

struct ListRow {
  std::string text;
  std::string detail; ///< At the right, quieter.
  bool heading = false;
  bool chosen = false; ///< Marked as the present value.

  bool operator==(const ListRow&) const = default;
};

/// A line of a song's form: up to four bars, each with its chords.
struct ChartLine {
  std::string section; ///< Named above it where one begins; else empty.
  std::vector<std::vector<ChordText>> bars;

  bool operator==(const ChartLine&) const = default;
};

struct ListPage {
  std::string title;
  std::vector<std::string> lines; ///< Sentences above the rows; wrapped.
  bool has_query = false;         ///< Shows a text field.
  std::string query;
  std::string query_hint;                 ///< Shown while the query is empty.
  std::optional<std::size_t> query_caret; ///< In bytes; none: at its end.
  std::string hints;                      ///< At the foot, as a frame's hints.
  std::vector<ListRow> rows;
  int selected = -1;        ///< Row with the focus; scrolled into view.
  std::optional<int> first; ///< The first row shown, as far as that leaves the focus in view; none:
                            ///< the focus in the middle.
  bool beside = false;      ///< At the right, beside the playing picture, instead of over it.
  std::vector<std::string> preview; ///< Sentences at the right.
  std::vector<ChartLine> chart;     ///< Below them: the form of a song.

  bool operator==(const ListPage&) const = default;
};

} // namespace landfall::render
