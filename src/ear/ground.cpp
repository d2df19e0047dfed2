#include "ear/ground.hpp"

#include <algorithm>

namespace landfall::ear {

const Span* Ground::span_at(Ticks tick) const {
  const auto after = std::upper_bound(spans.begin(), spans.end(), tick,
                                      [](Ticks at, const Span& span) { return at < span.from; });
  if (after == spans.begin() || tick >= std::prev(after)->to)
    return nullptr;
  return &*std::prev(after);
}

} // namespace landfall::ear
