#pragma once

#include "render/text.hpp"

#include <optional>

namespace landfall::render {

// Hints are keys and what they do, parted by two spaces: `space stop  k key`.

/// As many of them, from the last one backwards, as fit.
std::string last_hints(const Pen& pen, const Setting& setting, std::string_view hints, int room);

/// One of them, and the byte in it.
struct HintPlace {
  std::string_view hint;
  std::size_t at = 0;
};

/// What stands `x` pixels behind the left end of the line; none between two hints.
std::optional<HintPlace> hint_at(const Pen& pen, const Setting& setting, std::string_view hints,
                                 int x);

/// The start of the character that covers `x`; the text's end behind it.
std::size_t character_at(const Pen& pen, const Setting& setting, std::string_view text, int x);

} // namespace landfall::render
