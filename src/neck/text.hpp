#pragma once

#include "neck/label.hpp"

#include <string>

namespace landfall::neck {

/// The view as a diagram for a terminal of 80 columns, ASCII, high string on top; frets by reach
/// are dotted. Groups and grips are listed below it where the view has them. Ends with a newline.
std::string diagram(const Setting& setting, const std::optional<theory::Chord>& chord,
                    const NeckView& view, LabelKind labels = LabelKind::degree);

/// The same in sentences for a screen reader, a line each, signs spoken as words.
std::string sentences(const Setting& setting, const std::optional<theory::Chord>& chord,
                      const NeckView& view);

/// The same as a drawing for print in black and white: a complete SVG 1.1 document.
std::string svg(const Setting& setting, const std::optional<theory::Chord>& chord,
                const NeckView& view, LabelKind labels = LabelKind::degree);

} // namespace landfall::neck
