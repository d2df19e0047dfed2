#include "trade/adaptation.hpp"

#include <algorithm>

namespace landfall::trade {
namespace {

constexpr double wanted_share = 0.78;
constexpr double most_gain = 0.5, least_gain_of_all = 0.1;
constexpr double largest_step = 0.2;

} // namespace

void Adaptation::answered(double share) {
  if (pinned_)
    return;
  const double error = std::clamp(share, 0.0, 1.0) - wanted_share;
  const int direction = error > 0.0 ? 1 : -1;
  if (direction_ != 0 && direction != direction_) {
    gain_ = std::max(gain_ * 2.0 / 3.0, least_gain_of_all);
    steps_ = 0;
  } else if (++steps_ > 3)
    gain_ = std::min(gain_ * 4.0 / 3.0, most_gain);
  direction_ = direction;
  amount_ = std::clamp(amount_ + std::clamp(gain_ * error, -largest_step, largest_step), 0.0, 1.0);
}

void Adaptation::pin(std::optional<double> amount) {
  if (pinned_ && !amount)
    amount_ = *pinned_;
  pinned_ = amount ? std::optional(std::clamp(*amount, 0.0, 1.0)) : std::nullopt;
}

} // namespace landfall::trade
