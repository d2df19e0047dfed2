#pragma once

#include "trade/density.hpp"

#include <optional>

namespace landfall::trade {

/// How hard calls are, from the last answers.
///
/// The amount is a number from 0, the first of the densities, to 1, the last; the window never
/// shows it. After each answer it moves by gain x (share - 0.78), where the share is what part of
/// the answer was right. The gain begins at 0.5, so that the first few calls find the player; each
/// time that the direction turns it shrinks by a third, down to 0.1; three answers in one direction
/// let it grow by a third again, since the player has changed. One step is at most 0.2. So calls
/// become longer, denser, more chromatic and wider while more than 78 % is right, and less so
/// below.
class Adaptation {
public:
  explicit Adaptation(double amount = 0.25) : amount_(amount) {}

  /// Where between the densities the next call is made; the pin's, if there is one.
  double amount() const { return pinned_ ? *pinned_ : amount_; }

  /// An answer of which `share` (0 to 1) was right. While pinned it changes nothing.
  void answered(double share);

  /// Stays at `amount` whatever is answered; none goes on from there.
  void pin(std::optional<double> amount);
  bool pinned() const { return pinned_.has_value(); }

private:
  double amount_;
  double gain_ = 0.5;
  int direction_ = 0; ///< Of the last step.
  int steps_ = 0;     ///< In that direction.
  std::optional<double> pinned_;
};

} // namespace landfall::trade
