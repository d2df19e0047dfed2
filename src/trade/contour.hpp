#pragma once

#include "trade/call_chance.hpp"

namespace landfall::trade {

/// How a phrase rises and falls.
enum class Contour : std::uint8_t { arch, falling, rising, valley, wave };

/// Where the line is at `part` of the phrase (0 its beginning, 1 its end), from 0, its lowest,
/// to 1.
double height(Contour contour, double part);

/// Arches and falls more often than the others, as people sing.
Contour any_contour(Chance& chance);

} // namespace landfall::trade
