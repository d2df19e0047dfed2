#pragma once

#include "time/ticks.hpp"

#include <array>
#include <cstdint>
#include <vector>

namespace landfall::midi {

/// A channel message of at most three bytes, or a system real-time byte.
struct ShortMessage {
  std::array<std::uint8_t, 3> bytes{};
  std::uint8_t size = 0;

  constexpr bool operator==(const ShortMessage&) const = default;
};

/// A planned message. A note-on brings its length, and the sender ends it: a plan holds no
/// note-offs, so replacing it can never leave a note hanging.
struct PlannedMessage {
  Ticks at;     ///< In performance ticks (see Transport).
  Ticks length; ///< Of a note-on, above 0; 0 for anything else.
  ShortMessage message;
};

/// What one output is to send from `from` on. It takes the place of all that earlier chunks hold at
/// or after `from`; what sounds already keeps its own end. Messages are sorted by `at`, and may lie
/// before `from` (anticipations).
struct Chunk {
  Ticks from;
  Ticks to; ///< Where the plan ends; a later chunk is expected before that.
  std::vector<PlannedMessage> messages;
};

} // namespace landfall::midi
