#pragma once

#include "midi/plan.hpp"

#include <cstdint>
#include <optional>

namespace landfall::midi {

/// Takes a MIDI byte stream apart (MIDI 1.0 Detailed Specification, "Running Status" and "System
/// Real Time Messages"). Total: any byte in any state is taken, system exclusive messages and
/// stray data are skipped, real-time bytes come out at once wherever they stand. Fixed size,
/// real-time safe; one thread.
class Decoder {
public:
  /// The message that `byte` completes, if any.
  std::optional<ShortMessage> feed(std::uint8_t byte) noexcept;

  /// Forgets a message begun and the running status, as after a lost byte.
  void reset() noexcept;

private:
  std::optional<ShortMessage> begin(std::uint8_t status) noexcept;
  std::optional<ShortMessage> add(std::uint8_t data) noexcept;

  ShortMessage message_;
  std::uint8_t expected_ = 0; ///< Size of the message begun; 0: skip data.
};

} // namespace landfall::midi
