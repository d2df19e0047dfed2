#include "midi/input_event.hpp"

namespace landfall::midi {
namespace {

std::uint8_t channel_byte(const ShortMessage& message) {
  return static_cast<std::uint8_t>(channel_of(message));
}

int fourteen_bits(const ShortMessage& message) {
  return message.bytes[1] | (message.bytes[2] << 7);
}

} // namespace

InputReader::InputReader(int bend_semitones) {
  for (auto& channel : channels_)
    channel.semitones = bend_semitones;
}

double InputReader::bend_range_cents(int channel) const {
  const auto& range = channels_.at(static_cast<std::size_t>(channel & 0x0F));
  return range.semitones * 100.0 + range.cents;
}

std::optional<InputEvent> InputReader::read(const StampedMessage& stamped) {
  const auto& [time, message] = stamped;
  if (!is_valid(message))
    return std::nullopt;
  const auto channel = channel_byte(message);
  const auto first = message.bytes[1];
  const auto second = message.bytes[2];
  switch (status_of(message)) {
  case Status::note_off:
    return NoteEvent{time, channel, first, second, false};
  case Status::note_on:
    return NoteEvent{time, channel, first, second, second != 0};
  case Status::poly_pressure:
    return PressureEvent{time, channel, first, second};
  case Status::control:
    return read_control(stamped);
  case Status::program:
    return ProgramEvent{time, channel, first};
  case Status::channel_pressure:
    return PressureEvent{time, channel, std::nullopt, first};
  case Status::bend:
    return BendEvent{time, channel,
                     (fourteen_bits(message) - 8192) / 8192.0 * bend_range_cents(channel)};
  case Status::system:
    break;
  }
  return read_system(stamped);
}

InputEvent InputReader::read_control(const StampedMessage& stamped) {
  const auto& message = stamped.message;
  const int value = message.bytes[2];
  auto& channel = channels_[static_cast<std::size_t>(channel_of(message))];
  switch (message.bytes[1]) {
  case controller::rpn:
    channel.parameter = (channel.parameter & 0x7F) | (value << 7);
    break;
  case controller::rpn_fine:
    channel.parameter = (channel.parameter & 0x3F80) | value;
    break;
  case controller::nrpn:
  case controller::nrpn_fine:
    channel.parameter = no_parameter;
    break;
  case controller::data_entry:
    if (channel.parameter == 0)
      channel.semitones = value;
    break;
  case controller::data_entry_fine:
    if (channel.parameter == 0)
      channel.cents = value;
    break;
  default:
    break;
  }
  return ControlEvent{stamped.time, channel_byte(message), message.bytes[1], message.bytes[2]};
}

std::optional<InputEvent> InputReader::read_system(const StampedMessage& stamped) const {
  const auto status = stamped.message.bytes[0];
  switch (status) {
  case 0xF2:
    return SystemEvent{stamped.time, status, fourteen_bits(stamped.message)};
  case 0xF8:
  case 0xFA:
  case 0xFB:
  case 0xFC:
    return SystemEvent{stamped.time, status, 0};
  default:
    return std::nullopt;
  }
}

} // namespace landfall::midi
