#include "midi/decoder.hpp"

#include "midi/message.hpp"

namespace landfall::midi {

std::optional<ShortMessage> Decoder::feed(std::uint8_t byte) noexcept {
  if (byte >= 0xF8) {
    if (message_size(byte) == 0)
      return std::nullopt;
    return ShortMessage{{byte, 0, 0}, 1};
  }
  return byte >= 0x80 ? begin(byte) : add(byte);
}

void Decoder::reset() noexcept {
  message_ = {};
  expected_ = 0;
}

std::optional<ShortMessage> Decoder::begin(std::uint8_t status) noexcept {
  message_ = {{status, 0, 0}, 1};
  expected_ = static_cast<std::uint8_t>(message_size(status));
  if (expected_ != 1)
    return std::nullopt;
  const auto whole = message_;
  reset();
  return whole;
}

std::optional<ShortMessage> Decoder::add(std::uint8_t data) noexcept {
  if (expected_ == 0)
    return std::nullopt;
  message_.bytes[message_.size++] = data;
  if (message_.size < expected_)
    return std::nullopt;
  const auto whole = message_;
  if (message_.bytes[0] >= 0xF0)
    reset(); // system common messages end the running status
  else
    message_ = {{whole.bytes[0], 0, 0}, 1};
  return whole;
}

} // namespace landfall::midi
