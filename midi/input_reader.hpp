#pragma once

#include "midi/input_event.hpp"
#include "midi/input_mode.hpp"

#include <array>
#include <span>

namespace landfall::midi {

/// Reads one input's messages by its mode: which string a channel is, what a zone's manager bends
/// and sustains, which note a new one on the same string ends. One thread; neither allocates nor
/// throws, whatever comes in.
class InputReader {
public:
  explicit InputReader(const InputSetup& setup = {});

  /// What a message says, in order; nothing for messages that are not whole or that say nothing to
  /// us. The events stay until the next call.
  std::span<const InputEvent> read(const StampedMessage& stamped) noexcept;

  /// Cents that a full bend of `channel` makes.
  double bend_range_cents(int channel) const;
  const InputSetup& setup() const { return setup_; }

  /// Notes followed at once; one more ends the oldest.
  static constexpr std::size_t most_sounding = 128;

private:
  struct Channel {
    int parameter = no_parameter; ///< Chosen by controllers 101 and 100.
    int semitones = plain_bend_semitones;
    int cents = 0;
    int bend = 0; ///< -8192 to 8191.
    bool pedal = false;
  };
  struct Sounding {
    std::uint8_t channel = 0, note = 0;

    bool operator==(const Sounding&) const = default;
  };
  /// Channels that a manager speaks for: `first`, `first + step`, ... modulo 16.
  struct Zone {
    int manager = 0, first = 1, step = 1, members = 0;

    bool has(int channel) const;
    bool operator==(const Zone&) const = default;
  };
  static constexpr int no_parameter = 0x3FFF;

  void emit(const InputEvent& event) noexcept;
  void start_note(const StampedMessage& stamped) noexcept;
  void end_note(TimePoint time, Sounding note, std::uint8_t velocity) noexcept;
  void end_notes(TimePoint time, int channel) noexcept;
  void bend(const StampedMessage& stamped) noexcept;
  void control(const StampedMessage& stamped) noexcept;
  void enter_data(const StampedMessage& stamped, Channel& channel) noexcept;
  void set_range(int channel, int Channel::*part, int value) noexcept;
  void configure_zone(TimePoint time, int manager, int members) noexcept;
  void reset_ranges(const Zone& zone) noexcept;
  void pedal(TimePoint time, int channel, bool down) noexcept;
  void reset_controllers(TimePoint time, int channel) noexcept;
  void system(const StampedMessage& stamped) noexcept;

  const Zone* zone_managed_by(int channel) const noexcept;
  const Zone* zone_with(int channel) const noexcept;
  double cents_of(int channel) const noexcept;
  Channel& at(int channel) noexcept;
  const Channel& at(int channel) const noexcept;
  /// Calls `act` with `channel`, and with those that it manages.
  template <typename Act> void for_reach_of(int channel, Act act) noexcept;

  InputSetup setup_;
  std::array<Channel, channel_count> channels_;
  std::array<Zone, 2> zones_{}; ///< Lower and upper; the strings are the lower one.
  std::array<Sounding, most_sounding> sounding_{};
  std::size_t sounding_count_ = 0;
  std::array<InputEvent, most_sounding + channel_count * 2 + 2> events_;
  std::size_t event_count_ = 0;
};

} // namespace landfall::midi
