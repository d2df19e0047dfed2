#pragma once

#include "render/frame.hpp"
#include "render/geometry.hpp"
#include "theory/result.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace landfall::render {

/// The frame as the bytes of a PNG file: 8 bits a channel, deterministic. Needs no video device.
/// Errors: an unreadable font folder, a size outside 1x1 to 8192x8192, a build without libpng.
Result<std::vector<std::uint8_t>, std::string> render_png(const Frame& frame, Size size,
                                                          const std::string& font_folder);

} // namespace landfall::render
