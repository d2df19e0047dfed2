#include "render/png.hpp"

#ifdef LANDFALL_PNG
#include <png.h>
#endif

namespace landfall::render {

#ifdef LANDFALL_PNG

bool png_supported() {
  return true;
}

namespace {

png_image image_of(Size size) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(size.width);
  image.height = static_cast<png_uint_32>(size.height);
  image.format = PNG_FORMAT_RGB;
  return image;
}

std::vector<std::uint8_t> rgb_bytes(std::span<const std::uint32_t> pixels) {
  std::vector<std::uint8_t> bytes;
  bytes.reserve(pixels.size() * 3);
  for (const std::uint32_t pixel : pixels)
    for (int shift : {16, 8, 0})
      bytes.push_back(static_cast<std::uint8_t>(pixel >> shift));
  return bytes;
}

} // namespace

Result<std::vector<std::uint8_t>, std::string> png_bytes(std::span<const std::uint32_t> pixels,
                                                         Size size) {
  png_image image = image_of(size);
  const std::vector<std::uint8_t> bytes = rgb_bytes(pixels);
  std::vector<std::uint8_t> out(PNG_IMAGE_PNG_SIZE_MAX(image));
  png_alloc_size_t length = out.size();
  if (png_image_write_to_memory(&image, out.data(), &length, 0, bytes.data(), 0, nullptr) == 0)
    return std::string("cannot write the picture: ") + image.message;
  out.resize(length);
  return out;
}

Result<Pixels, std::string> read_png(const std::string& path) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  if (png_image_begin_read_from_file(&image, path.c_str()) == 0)
    return path + ": " + image.message;
  image.format = PNG_FORMAT_RGB;
  std::vector<std::uint8_t> bytes(PNG_IMAGE_SIZE(image));
  if (png_image_finish_read(&image, nullptr, bytes.data(), 0, nullptr) == 0)
    return path + ": " + image.message;
  Pixels out{{static_cast<int>(image.width), static_cast<int>(image.height)}, {}};
  for (std::size_t i = 0; i + 2 < bytes.size(); i += 3)
    out.pixels.push_back((std::uint32_t{bytes[i]} << 16) | (std::uint32_t{bytes[i + 1]} << 8) |
                         bytes[i + 2]);
  return out;
}

#else

bool png_supported() {
  return false;
}

Result<std::vector<std::uint8_t>, std::string> png_bytes(std::span<const std::uint32_t>, Size) {
  return std::string("pictures need libpng, which was missing when the program was built");
}

Result<Pixels, std::string> read_png(const std::string&) {
  return std::string("pictures need libpng, which was missing when the program was built");
}

#endif

} // namespace landfall::render
