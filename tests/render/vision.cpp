#include "render/vision.hpp"

#include <array>

namespace landfall::render::checks {

namespace {

using Row = std::array<double, 3>;
using Matrix = std::array<Row, 3>;

constexpr Matrix matrices[] = {{{{0.152286, 1.052583, -0.204868},
                                 {0.114503, 0.786281, 0.099216},
                                 {-0.003882, -0.048116, 1.051998}}},
                               {{{0.367322, 0.860646, -0.227968},
                                 {0.280085, 0.672501, 0.047413},
                                 {-0.011820, 0.042940, 0.968881}}},
                               {{{1.255528, -0.076749, -0.178779},
                                 {-0.078411, 0.930809, 0.147602},
                                 {0.004733, 0.691367, 0.303900}}}};

double linear(std::uint8_t channel) {
  const double v = channel / 255.0;
  return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}

std::uint8_t coded(double v) {
  v = between(0.0, v, 1.0);
  v = v <= 0.0031308 ? v * 12.92 : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
  return static_cast<std::uint8_t>(std::lround(v * 255));
}

} // namespace

Color seen_by(Vision vision, Color color) {
  const Row in{linear(color.red), linear(color.green), linear(color.blue)};
  const Matrix& matrix = matrices[static_cast<std::size_t>(vision)];
  const auto channel = [&](std::size_t i) {
    return coded(matrix[i][0] * in[0] + matrix[i][1] * in[1] + matrix[i][2] * in[2]);
  };
  return {channel(0), channel(1), channel(2)};
}

} // namespace landfall::render::checks
