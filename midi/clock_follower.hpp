#pragma once

#include "midi/clock_out.hpp"
#include "midi/latest.hpp"

#include <array>

namespace landfall::midi {

/// What an incoming clock says, as plain data for a Latest<>.
struct ClockReading {
  bool clocks = false;      ///< Clocks come, or came until a moment ago.
  bool tempo_known = false; ///< Enough came for a first guess.
  bool locked = false;      ///< A beat was heard: tempo and phase are steady.
  /// Start or continue was heard, and no stop. Without it a clock has a tempo, but no place.
  bool running = false;
  std::uint64_t starts = 0; ///< Counts starts and continues.
  /// The line that the clock goes along, from song position 0 at tick 0. `rolling` as `running`.
  Transport line;

  bool operator==(const ClockReading&) const = default;
};

/// Follows incoming MIDI clock: a straight line is laid through the last four beats of clocks, so
/// that jitter averages out; it is begun anew where the clocks leave it. Lost and doubled clocks
/// are counted by their time. Reads no clock, never allocates or throws: the input callback may
/// feed it. One thread.
class ClockFollower {
public:
  /// A message that came in at `time`; what does not belong to a clock is left alone. Whether the
  /// reading changed.
  bool hear(const ShortMessage& message, TimePoint time) noexcept;

  const ClockReading& reading() const noexcept { return reading_; }

  /// Longer without a clock, and it is not there any more: whoever follows goes on at the last
  /// tempo.
  static constexpr Nanoseconds silence{2'000'000'000};

private:
  static constexpr std::size_t window = 96; ///< Clocks: four beats.
  static constexpr std::size_t lock = 24;   ///< A beat.
  static constexpr std::size_t least = 6;   ///< Enough for a first line.
  static constexpr std::size_t kept = 12;   ///< Where the line is begun anew.

  struct Heard {
    std::int64_t index = 0;
    double seconds = 0; ///< From base_.
  };
  /// Seconds at a clock's index.
  struct Line {
    double seconds = 0;
    double index = 0;
    double period = 0; ///< Seconds a clock.

    double at(std::int64_t i) const { return seconds + (static_cast<double>(i) - index) * period; }
  };

  void clock(TimePoint time) noexcept;
  bool is_fresh_start(double seconds) const noexcept;
  void begin(double seconds) noexcept;
  void arrive(double seconds) noexcept;
  bool is_even() const noexcept;
  double mean_interval() const noexcept;
  void count_again() noexcept;
  bool count(double seconds) noexcept;
  void add(double seconds) noexcept;
  void fit() noexcept;
  double jitter() const noexcept;
  bool leaves_line() const noexcept;
  void place() noexcept;
  void publish() noexcept;
  Heard& heard(std::size_t back) noexcept { return heard_[(next_ + window - 1 - back) % window]; }
  const Heard& heard(std::size_t back) const noexcept {
    return heard_[(next_ + window - 1 - back) % window];
  }

  ClockReading reading_;
  TimePoint base_;
  std::array<Heard, window> heard_{};
  std::size_t count_ = 0; ///< Clocks on the line, the newest of heard_.
  std::size_t next_ = 0;
  std::int64_t index_ = 0; ///< Of the last clock.
  double last_ = 0;        ///< When it came, seconds.
  double near_ = 0;        ///< Where it lies when only the last few are asked.
  Line line_;
  std::array<Heard, 16> arrivals_{}; ///< The last clocks as they came, the newest first.
  std::size_t arrived_ = 0;
  bool waits_ = false; ///< Started: the next clock lies at origin_tick_.
  std::int64_t origin_ = 0;
  Ticks origin_tick_;
  Ticks position_; ///< Where continue goes on.
};

/// A follower that an input callback feeds, and whom others ask.
struct ClockLink {
  ClockFollower follower; ///< The callback's thread only.
  Latest<ClockReading> reading;

  /// The callback's thread; real-time safe.
  void hear(const ShortMessage& message, TimePoint time) noexcept {
    if (follower.hear(message, time))
      reading.publish(follower.reading());
  }
};

} // namespace landfall::midi
