#pragma once

#include "ear/strike.hpp"

namespace landfall::ear {

/// How far each strike of a line lies from the part of the beat that it means, in milliseconds,
/// positive behind; none for grace notes, slides and what lies outside the ground. Per beat the
/// division that fits best: eighths (straight, or as the feel swings them), triplets, sixteenths;
/// the coarser unless a finer one fits clearly better. A strike just before a beat belongs to it.
std::vector<std::optional<double>> deviations_ms(const Ground& ground, const Line& line);

} // namespace landfall::ear
