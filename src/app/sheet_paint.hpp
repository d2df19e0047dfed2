#pragma once

#include "app/sheet_page.hpp"

namespace landfall::app::sheet {

/// What a build without cairo says.
inline constexpr const char* no_cairo = "built without cairo: no sheets can be drawn";

/// The fonts that a sheet is set in.
struct Faces {
  std::string folder;
  const render::TextMetrics* metrics = nullptr; ///< Of the same fonts; never null.
};

struct Painted {
  std::string bytes;
  std::string error; ///< One line; empty on success.
};

/// The bytes of a PDF document of all pages, its fonts inside and its text as text. Errors: a
/// font that cannot be read, no_cairo. One thread at a time.
Painted pdf_of(const Sheet& sheet, const Faces& faces);

/// One page, from 0, as an SVG document that needs no fonts. Errors as pdf_of().
Painted svg_of(const Sheet& sheet, std::size_t page, const Faces& faces);

} // namespace landfall::app::sheet
