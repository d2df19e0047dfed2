#pragma once

#include "time/ticks.hpp"

#include <optional>

namespace landfall::practice {

/// Suggests a rest after 25 minutes of playing without a pause, once. Reads no clock.
class RestHint {
public:
  static constexpr std::chrono::minutes playing_for{25};
  static constexpr std::chrono::minutes pause{2}; ///< What counts as one.

  /// To be told now and then; `now` never falls. True once in a stretch of playing: when to say it.
  bool is_due(bool playing, Nanoseconds now);

private:
  std::optional<Nanoseconds> since_; ///< The stretch began.
  Nanoseconds last_{};               ///< It was played last.
  bool said_ = false;
};

} // namespace landfall::practice
