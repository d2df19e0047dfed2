#include "trade/contour.hpp"

#include <array>
#include <cmath>
#include <numbers>

namespace landfall::trade {

double height(Contour contour, double part) {
  constexpr double pi = std::numbers::pi;
  switch (contour) {
  case Contour::arch: // the top a little after the middle
    return 0.15 + 0.85 * std::sin(pi * std::pow(part, 1.2));
  case Contour::falling:
    return 1.0 - part * 0.9;
  case Contour::rising:
    return 0.1 + part * 0.8;
  case Contour::valley:
    return 0.8 - 0.75 * std::sin(pi * part);
  case Contour::wave:
    return 0.5 + 0.45 * std::sin(2.0 * pi * part) * (1.0 - 0.3 * part);
  }
  return 0.5;
}

Contour any_contour(Chance& chance) {
  constexpr std::array weights{4.0, 3.0, 2.0, 1.5, 2.5};
  return static_cast<Contour>(chance.weighted(weights));
}

} // namespace landfall::trade
