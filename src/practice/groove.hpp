#pragma once

#include "band/feel.hpp"
#include "trade/rhythm.hpp"

namespace landfall::practice {

/// How a feel divides the beat, as calls are to.
inline trade::Groove groove_of(const band::Feel& feel) {
  return {feel.swing, feel.swing.sixteenths, song::compound(feel.meter)};
}

} // namespace landfall::practice
