#pragma once

#include "midi/plan.hpp"

#include <cstdint>

/// Making and reading channel messages (MIDI 1.0 Detailed Specification, tables 1 to 3). Channels
/// are 0 to 15 here, as on the wire. Every function is pure and real-time safe; makers clamp notes,
/// controllers and values to 0..127 and take the channel modulo 16.
namespace landfall::midi {

inline constexpr int channel_count = 16;
inline constexpr int note_count = 128;
inline constexpr int drum_channel = 9; ///< General MIDI percussion.

/// The upper half of a status byte.
enum class Status : std::uint8_t {
  note_off = 0x80,
  note_on = 0x90,
  poly_pressure = 0xA0,
  control = 0xB0,
  program = 0xC0,
  channel_pressure = 0xD0,
  bend = 0xE0,
  system = 0xF0,
};

namespace controller {
inline constexpr int bank = 0, data_entry = 6, volume = 7, pan = 10, expression = 11,
                     bank_fine = 32;
inline constexpr int data_entry_fine = 38, sustain = 64, reverb = 91, chorus = 93;
inline constexpr int nrpn_fine = 98, nrpn = 99, rpn_fine = 100, rpn = 101;
inline constexpr int all_sound_off = 120, reset_all = 121, all_notes_off = 123;
} // namespace controller

ShortMessage note_on(int channel, int note, int velocity);
ShortMessage note_off(int channel, int note, int velocity = 64);
ShortMessage control(int channel, int number, int value);
ShortMessage program(int channel, int number);
/// `value` from -8192 to 8191; 0 is the centre.
ShortMessage bend(int channel, int value);

/// `system` for anything that is no channel message.
constexpr Status status_of(const ShortMessage& m) {
  return m.size == 0 ? Status::system : static_cast<Status>(m.bytes[0] & 0xF0);
}
constexpr int channel_of(const ShortMessage& m) {
  return m.bytes[0] & 0x0F;
}
constexpr int note_of(const ShortMessage& m) {
  return m.bytes[1] & 0x7F;
}
constexpr int velocity_of(const ShortMessage& m) {
  return m.bytes[2] & 0x7F;
}

/// A note-on that sounds: velocity 0 is a note-off.
constexpr bool is_note_on(const ShortMessage& m) {
  return status_of(m) == Status::note_on && m.size == 3 && m.bytes[2] != 0;
}
constexpr bool is_note_off(const ShortMessage& m) {
  return m.size == 3 &&
         (status_of(m) == Status::note_off || (status_of(m) == Status::note_on && m.bytes[2] == 0));
}

/// The same message on another channel; system messages are returned as they are.
ShortMessage on_channel(ShortMessage message, int channel);

/// How many bytes a message with this status byte has: 1 to 3; 0 for system exclusive (any
/// length), for undefined status bytes and for data bytes.
int message_size(std::uint8_t status);

/// Whether `message` is whole: its size fits its status and its data bytes are below 128.
bool is_valid(const ShortMessage& message);

} // namespace landfall::midi
