#include "app/sheet_paint.hpp"

namespace landfall::app::sheet {

Painted pdf_of(const Sheet&, const Faces&) {
  return {"", no_cairo};
}

Painted svg_of(const Sheet&, std::size_t, const Faces&) {
  return {"", no_cairo};
}

} // namespace landfall::app::sheet
