#pragma once

#include "band/feel.hpp"
#include "trade/rhythm.hpp"

namespace landfall::practice {

/// How a feel divides the beat, as calls are to.
inline trade::Groove groove_of(const band::Feel& feel) {
  trade::Groove groove;
  groove.swing = feel.swing;
  return groove;
}

} // namespace landfall::practice
