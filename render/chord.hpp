#pragma once

#include "render/frame.hpp"
#include "render/text.hpp"

namespace landfall::render {

/// Width of a chord symbol whose root has `size`.
int chord_width(const Pen& pen, const ChordText& chord, int size);

/// The size, at most `size`, in which the symbol takes at most `room`; at least a third of `size`.
int chord_size_within(const Pen& pen, const ChordText& chord, int size, int room);

/// Sets the symbol as one block: root bold, accidental raised, quality smaller and semibold, bass
/// after a slash. Returns its width.
int write_chord(Pen& pen, const ChordText& chord, int size, Point at, Color color);

} // namespace landfall::render
