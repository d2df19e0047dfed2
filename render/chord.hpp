#pragma once

#include "render/frame.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// How large a chord symbol is set, and whether its quality and bass stand below the root.
struct ChordSize {
  int root = 0;
  bool stacked = false;
  bool cut = false; ///< Only the root and an ellipsis, where the rest could not be read.
};

/// Width of the symbol.
int chord_width(const Pen& pen, const ChordText& chord, ChordSize size);

/// The setting, at most `wanted` large, in which the symbol takes at most `room`. In one line if
/// that keeps it large enough, else stacked, else cut; at least a third of `wanted`.
ChordSize fit_chord(const Pen& pen, const ChordText& chord, int wanted, int room);

/// The same where there is room for one line only.
ChordSize fit_chord_line(const Pen& pen, const ChordText& chord, int wanted, int room);

/// Sets the symbol as one block: root bold, accidental raised, quality smaller and semibold, bass
/// after a slash. Returns its width.
int write_chord(Pen& pen, const ChordText& chord, ChordSize size, Point at, Color color);

} // namespace landfall::render
