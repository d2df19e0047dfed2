#pragma once

#include "time/random.hpp"

#include <cassert>
#include <span>

namespace landfall::trade {

/// A row of numbers that look random: the same seed gives the same row on every platform.
class Chance {
public:
  explicit Chance(std::uint64_t seed) : state_(mixed(seed)) {}

  /// In [0, 1).
  double unit() {
    state_ = mixed(state_);
    return static_cast<double>(state_ >> 11) / 9007199254740992.0;
  }
  bool percent(double share) { return unit() * 100.0 < share; }
  double between(double low, double high) { return low + (high - low) * unit(); }

  /// An index, as probable as its weight; `weights` are at least 0 and not all 0.
  std::size_t weighted(std::span<const double> weights) {
    assert(!weights.empty());
    double sum = 0.0;
    for (const double weight : weights)
      sum += weight;
    double left = unit() * sum;
    for (std::size_t i = 0; i + 1 < weights.size(); ++i)
      if ((left -= weights[i]) < 0.0)
        return i;
    return weights.size() - 1;
  }

private:
  std::uint64_t state_;
};

} // namespace landfall::trade
