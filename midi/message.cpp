#include "midi/message.hpp"

#include <algorithm>

namespace landfall::midi {
namespace {

std::uint8_t status_byte(Status status, int channel) {
  return static_cast<std::uint8_t>(static_cast<int>(status) | (channel & 0x0F));
}

std::uint8_t data_byte(int value) {
  return static_cast<std::uint8_t>(std::clamp(value, 0, 127));
}

ShortMessage three(Status status, int channel, int first, int second) {
  return {{status_byte(status, channel), data_byte(first), data_byte(second)}, 3};
}

} // namespace

ShortMessage note_on(int channel, int note, int velocity) {
  return three(Status::note_on, channel, note, velocity);
}

ShortMessage note_off(int channel, int note, int velocity) {
  return three(Status::note_off, channel, note, velocity);
}

ShortMessage control(int channel, int number, int value) {
  return three(Status::control, channel, number, value);
}

ShortMessage program(int channel, int number) {
  return {{status_byte(Status::program, channel), data_byte(number), 0}, 2};
}

ShortMessage bend(int channel, int value) {
  const int raw = std::clamp(value, -8192, 8191) + 8192;
  return three(Status::bend, channel, raw & 0x7F, raw >> 7);
}

ShortMessage on_channel(ShortMessage message, int channel) {
  if (status_of(message) != Status::system)
    message.bytes[0] = static_cast<std::uint8_t>((message.bytes[0] & 0xF0) | (channel & 0x0F));
  return message;
}

int message_size(std::uint8_t status) {
  if (status < 0x80)
    return 0;
  if (status < 0xF0)
    return status >= 0xC0 && status < 0xE0 ? 2 : 3;
  switch (status) {
  case 0xF1: // time code quarter frame
  case 0xF3: // song select
    return 2;
  case 0xF2: // song position
    return 3;
  case 0xF0: // system exclusive
  case 0xF4:
  case 0xF5: // undefined
  case 0xF7: // end of exclusive
  case 0xF9:
  case 0xFD: // undefined
    return 0;
  default:
    return 1;
  }
}

bool is_valid(const ShortMessage& message) {
  if (message.size == 0 || message.size > 3 || message_size(message.bytes[0]) != message.size)
    return false;
  return std::all_of(message.bytes.begin() + 1, message.bytes.begin() + message.size,
                     [](std::uint8_t byte) { return byte < 0x80; });
}

} // namespace landfall::midi
