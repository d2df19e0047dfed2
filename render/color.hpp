#pragma once

#include "render/geometry.hpp"

#include <cmath>
#include <cstdint>

namespace landfall::render {

/// Opaque, 8 bits a channel.
struct Color {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;

  constexpr bool operator==(const Color&) const = default;
};

/// From 0xRRGGBB.
constexpr Color rgb(std::uint32_t value) {
  return {static_cast<std::uint8_t>(value >> 16), static_cast<std::uint8_t>(value >> 8),
          static_cast<std::uint8_t>(value)};
}

constexpr std::uint32_t packed(Color c) {
  return (std::uint32_t{c.red} << 16) | (std::uint32_t{c.green} << 8) | c.blue;
}

/// `under` covered by `over` with the opacity `amount`, 0 to 1.
constexpr Color mix(Color under, Color over, double amount) {
  const double share = between(0.0, amount, 1.0);
  auto channel = [share](int a, int b) {
    return static_cast<std::uint8_t>(a + (b - a) * share + 0.5);
  };
  return {channel(under.red, over.red), channel(under.green, over.green),
          channel(under.blue, over.blue)};
}

/// Relative luminance, 0 to 1 (WCAG 2.1).
inline double luminance(Color c) {
  auto linear = [](std::uint8_t channel) {
    const double v = channel / 255.0;
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
}

/// 1 to 21 (WCAG 2.1).
inline double contrast(Color a, Color b) {
  const double la = luminance(a), lb = luminance(b);
  return (la > lb ? la + 0.05 : lb + 0.05) / (la > lb ? lb + 0.05 : la + 0.05);
}

} // namespace landfall::render
