#pragma once

#include "midi/message.hpp"
#include "time/ticks.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <variant>

/// What an input says, read from its messages. Times are those of the callback's entry.
namespace landfall::midi {

/// A message with the time it came in, and the input that it came from.
struct StampedMessage {
  TimePoint time;
  ShortMessage message;
  std::uint8_t input = 0; ///< As the one who opened the ports numbers them.
};

/// A finger down or up. A note-on with velocity 0 arrives here as a note-off.
struct NoteEvent {
  TimePoint time;
  std::uint8_t channel = 0;  ///< 0 to 15.
  std::uint8_t note = 0;     ///< 0 to 127.
  std::uint8_t velocity = 0; ///< 1 to 127 when on.
  bool on = false;
  std::optional<int> string = {}; ///< 1 is the highest; known with one channel a string.
};

/// Where the pitch of a channel stands, a zone's common bend included.
struct BendEvent {
  TimePoint time;
  std::uint8_t channel = 0;
  double cents = 0; ///< Signed, by the channel's bend range.
};

/// The sustain pedal of a channel. One pedal for several channels arrives as one of these for each.
struct PedalEvent {
  TimePoint time;
  std::uint8_t channel = 0;
  bool down = false;
};

/// Any controller but the sustain pedal.
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

using InputEvent = std::variant<NoteEvent, BendEvent, PedalEvent, ControlEvent, ProgramEvent,
                                PressureEvent, SystemEvent>;

/// Bend ranges of plain inputs, of one channel a string, and of MPE.
inline constexpr int plain_bend_semitones = 2;
inline constexpr int per_string_bend_semitones = 12;
inline constexpr int mpe_bend_semitones = 48;

/// Registered parameters: bend range (MIDI 1.0), MPE configuration (MPE 1.0, 2.1).
inline constexpr int bend_range_parameter = 0, mpe_configuration = 6;

} // namespace landfall::midi
