#pragma once

#include "midi/clock_out.hpp"
#include "midi/output.hpp"
#include "midi/sender_links.hpp"
#include "midi/sounding.hpp"

#include <array>
#include <limits>

namespace landfall::midi {

/// What a sender does each time it wakes, without thread or clock: performs the plan up to `now`.
/// Never allocates, locks, throws or reads the time; one thread.
///
/// Order: at equal ticks MIDI clock goes first, then note-offs, then everything else; messages of a
/// plan keep their order.
/// A plan's note that is struck again while it sounds is ended first. Note-ons later than
/// `too_late` are skipped and counted, so that a process which was suspended does not burst.
class SenderCore {
public:
  static constexpr Nanoseconds too_late{50'000'000};
  static constexpr TimePoint never = TimePoint::max();

  SenderCore(Output& output, SenderLinks& links, const Latest<Transport>& transport);

  /// Does all that is due at `now`; returns the next deadline, or `never`.
  TimePoint step(TimePoint now) noexcept;

  /// Ends everything that sounds, lets the pedals up and retires all plans. For the end of the
  /// thread.
  void finish(TimePoint now) noexcept;

  std::size_t sounding() const noexcept { return sounding_.size(); }

private:
  /// A plan in use: what is left of it lies in [next, end).
  struct Active {
    const Chunk* chunk;
    std::size_t next;
    std::size_t end;
  };
  /// What the sender knows of a thru lane.
  struct Lane {
    bool open = false;
    std::uint64_t map = 0; ///< Its version.
    Thru thru;
    std::uint64_t losses = 0; ///< Cuts, and messages that the queue refused: some end a note.
    std::uint16_t used = 0;   ///< Bit n: something came through to channel n.
  };
  /// Plans held at the same time: those with something left before the next one. More wait.
  static constexpr std::size_t active_limit = 32;
  static constexpr Ticks beginning{std::numeric_limits<std::int64_t>::min()};
  static constexpr Ticks end_of_time{std::numeric_limits<std::int64_t>::max()};

  void read_transport() noexcept;
  void take_stop(TimePoint now) noexcept;
  void take_panic(TimePoint now) noexcept;
  void take_mutes(TimePoint now) noexcept;
  void take_chunks(TimePoint now) noexcept;
  void take_immediate(TimePoint now) noexcept;
  void take_thru(std::size_t lane, TimePoint now) noexcept;

  void take_clock(TimePoint now) noexcept;

  TimePoint perform(TimePoint now) noexcept;
  bool perform_next(Ticks at, TimePoint due, TimePoint now) noexcept;
  Ticks next_tick() const noexcept;
  bool perform(const PlannedMessage& planned, TimePoint due, TimePoint now) noexcept;
  void mark_done(TimePoint now) noexcept;

  void accept(const Chunk& chunk) noexcept;
  void retire(std::size_t i) noexcept;
  std::size_t next_active() const noexcept;
  const PlannedMessage& next_message(std::size_t i) const noexcept;

  void play_live(const TimedMessage& live, std::uint8_t source, TimePoint now) noexcept;
  void strike(const ShortMessage& on, Ticks off, std::uint8_t source, TimePoint due,
              TimePoint now) noexcept;
  void end_note(std::size_t i, TimePoint due, TimePoint now) noexcept;
  template <typename Which> void end_notes(Which which, TimePoint now) noexcept;
  void release_pedals(std::uint16_t channels, TimePoint now) noexcept;
  void emit(const ShortMessage& message, TimePoint due, TimePoint now) noexcept;
  void emit(const ClockOut::Batch& batch, TimePoint due, TimePoint now) noexcept;

  Output& output_;
  SenderLinks& links_;
  const Latest<Transport>& transport_link_;

  Transport transport_;
  StopMark stop_;
  std::uint64_t stop_version_ = 0;
  std::uint32_t panics_ = 0;
  std::uint16_t muted_ = 0;
  std::uint16_t used_ = 0; ///< Bit n: something was sent on channel n.
  std::array<Lane, SenderLinks::thru_lanes> lanes_{};

  std::array<Active, active_limit> active_{};
  std::size_t active_count_ = 0;
  Ticks planned_to_ = beginning;
  Ticks done_ = beginning; ///< What lies before this tick was performed, or will never be.
  SoundingNotes sounding_;
  ClockOut clock_;
  bool clock_runs_ = false; ///< It is sent, and the transport rolls.
};

} // namespace landfall::midi
