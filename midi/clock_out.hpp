#pragma once

#include "midi/plan.hpp"
#include "time/transport.hpp"

#include <array>

namespace landfall::midi {

/// Ticks between two clocks: 24 to the quarter note (MIDI 1.0 Detailed Specification, System Real
/// Time Messages).
inline constexpr Ticks clock_step = quarter / 24;
/// Song position counts sixteenths, six clocks each (Song Position Pointer), and has 14 bits.
inline constexpr Ticks song_position_step = clock_step * 6;
inline constexpr std::int64_t song_positions = 1 << 14;

inline constexpr std::uint8_t clock_byte = 0xF8, start_byte = 0xFA, continue_byte = 0xFB,
                              stop_byte = 0xFC, song_position_byte = 0xF2;

/// Which clock messages are due, on the ticks of a performance. Clocks run from the count-in on;
/// start is sent right before the clock of tick 0. A performance that begins or goes on elsewhere
/// is found by song position and continue, on the next sixteenth. Positions count from tick 0,
/// chorus after chorus, and start anew after 1024 bars of 4/4. Never allocates or throws; one
/// thread.
class ClockOut {
public:
  /// At most this many messages belong together.
  static constexpr std::size_t most = 3;
  struct Batch {
    std::array<ShortMessage, most> messages;
    std::size_t count = 0;

    void add(const ShortMessage& message) { messages[count++] = message; }
  };

  /// The performance rolls, and stands at `now`. A place other than that which follows from the
  /// last call and take() is a jump. Returns what must be sent at once.
  Batch roll(Ticks now) noexcept;
  /// It stands still. Returns what must be sent at once.
  Batch stop() noexcept;

  /// When the next messages are due.
  Ticks next() const noexcept { return next_; }
  /// Those messages. Only while it rolls.
  Batch take() noexcept;

private:
  bool rolls_ = false;
  bool running_ = false; ///< Receivers were told to start.
  Ticks next_;
};

} // namespace landfall::midi
