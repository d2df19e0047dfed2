#pragma once

#include "midi/message.hpp"
#include "time/ticks.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <variant>

/// What an input says, read from its messages. Times are those of the callback's entry.
namespace landfall::midi {

/// A message with the time it came in.
struct StampedMessage {
  TimePoint time;
  ShortMessage message;
};

/// A finger down or up. A note-on with velocity 0 arrives here as a note-off.
struct NoteEvent {
  TimePoint time;
  std::uint8_t channel = 0;  ///< 0 to 15.
  std::uint8_t note = 0;     ///< 0 to 127.
  std::uint8_t velocity = 0; ///< 1 to 127 when on.
  bool on = false;
};

/// Where the pitch of a channel stands.
struct BendEvent {
  TimePoint time;
  std::uint8_t channel = 0;
  double cents = 0; ///< Signed, by the channel's bend range.
};

struct ControlEvent {
  TimePoint time;
  std::uint8_t channel = 0;
  std::uint8_t controller = 0;
  std::uint8_t value = 0;
};

struct ProgramEvent {
  TimePoint time;
  std::uint8_t channel = 0;
  std::uint8_t program = 0;
};

struct PressureEvent {
  TimePoint time;
  std::uint8_t channel = 0;
  std::optional<std::uint8_t> note; ///< None: of the whole channel.
  std::uint8_t value = 0;
};

/// Clock, start, stop, continue and song position.
struct SystemEvent {
  TimePoint time;
  std::uint8_t status = 0; ///< 0xF2, 0xF8, 0xFA, 0xFB or 0xFC.
  int position = 0;        ///< Of 0xF2: sixteenth notes from the start.
};

using InputEvent =
    std::variant<NoteEvent, BendEvent, ControlEvent, ProgramEvent, PressureEvent, SystemEvent>;

/// Bend ranges of plain inputs, of one channel a string, and of MPE.
inline constexpr int plain_bend_semitones = 2;
inline constexpr int per_string_bend_semitones = 12;
inline constexpr int mpe_bend_semitones = 48;

/// Reads one input's messages; remembers each channel's bend range as set by RPN 0 (MIDI 1.0,
/// "Registered Parameter Numbers"). One thread; neither allocates nor throws.
class InputReader {
public:
  explicit InputReader(int bend_semitones = plain_bend_semitones);

  /// None for messages that are not whole or that say nothing to us.
  std::optional<InputEvent> read(const StampedMessage& stamped);

  /// Cents that a full bend of `channel` makes.
  double bend_range_cents(int channel) const;

private:
  struct Channel {
    int parameter = no_parameter; ///< RPN number chosen by controllers 101 and 100.
    int semitones = 2;
    int cents = 0;
  };
  static constexpr int no_parameter = 0x3FFF;

  InputEvent read_control(const StampedMessage& stamped);
  std::optional<InputEvent> read_system(const StampedMessage& stamped) const;

  std::array<Channel, channel_count> channels_;
};

} // namespace landfall::midi
