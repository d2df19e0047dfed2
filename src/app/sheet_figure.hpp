#pragma once

#include "app/sheet_pen.hpp"
#include "neck/label.hpp"

namespace landfall::app::sheet {

/// A drawing of its own size, from its top left corner.
struct Figure {
  std::vector<Mark> marks;
  double width = 0, height = 0;
};

/// What is drawn of a view: its notes, in the place of `setting`.
struct NeckDrawing {
  const neck::Setting* setting = nullptr; ///< Never null.
  const neck::NeckView* view = nullptr;   ///< Never null.
  neck::LabelKind labels = neck::LabelKind::degree;
  double width = 155; ///< At most; necks of few frets are narrower.
  bool mutes = false; ///< A cross beside each string without a note.
};

/// A note as it is marked: a filled disc to land on, an open dashed one for a chord tone outside
/// the set, a small ring for the rest; a ring around it in the grip; smaller within reach.
void draw_note(Pen& pen, const neck::NeckNote& note, const std::string& label, double x, double y);

/// The frets of hand and reach, high string on top, as the instrument is held.
Figure neck_figure(const render::TextMetrics& metrics, const NeckDrawing& drawing);

/// The keys under the hand and within reach.
Figure keys_figure(const render::TextMetrics& metrics, const NeckDrawing& drawing);

/// Whichever of them the instrument is.
Figure board_figure(const render::TextMetrics& metrics, const NeckDrawing& drawing);

/// Three strings with a group on them, as wide as five frets; on a keyboard the keys.
Figure group_figure(const render::TextMetrics& metrics, const NeckDrawing& drawing,
                    const neck::Group& group);

} // namespace landfall::app::sheet
