#include "render/picture.hpp"

#include "render/canvas.hpp"
#include "render/layout.hpp"
#include "render/png.hpp"

namespace landfall::render {

Result<std::vector<std::uint8_t>, std::string> render_png(const Frame& frame, Size size,
                                                          const std::string& font_folder) {
  auto fonts = Fonts::open(font_folder);
  if (!fonts)
    return fonts.error();
  auto canvas = Canvas::create(size, **fonts);
  if (!canvas)
    return canvas.error();
  (*canvas)->paint(layout(frame, size, **fonts));
  return png_bytes((*canvas)->pixels(), size);
}

} // namespace landfall::render
