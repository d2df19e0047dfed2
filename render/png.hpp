#pragma once

#include "render/geometry.hpp"
#include "theory/result.hpp"

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace landfall::render {

/// Whether the program was built with libpng.
bool png_supported();

/// A PNG file of rows of 0x00RRGGBB. The error says that the program was built without libpng, or
/// what libpng said.
Result<std::vector<std::uint8_t>, std::string> png_bytes(std::span<const std::uint32_t> pixels,
                                                         Size size);

struct Pixels {
  Size size;
  std::vector<std::uint32_t> pixels; ///< Rows of 0x00RRGGBB.
};

/// Reads a PNG file.
Result<Pixels, std::string> read_png(const std::string& path);

} // namespace landfall::render
