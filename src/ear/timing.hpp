#pragma once

#include "ear/strike.hpp"

namespace landfall::ear {

/// How far notes lie from the beat's parts, in milliseconds, positive behind; none for grace notes,
/// slides and what lies outside the ground. For each beat the division that fits best, of whole
/// beat, eighths (straight and swung), triplets and sixteenths, the coarser preferred: a finer one
/// must halve what is left over.
std::vector<std::optional<double>> deviations_ms(const Ground& ground,
                                                 std::span<const HeardNote> notes);

} // namespace landfall::ear
