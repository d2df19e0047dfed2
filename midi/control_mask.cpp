#include "midi/control_mask.hpp"

namespace landfall::midi {
namespace {

std::optional<ControlKind> kind_of(const ShortMessage& message) {
  switch (status_of(message)) {
  case Status::note_off:
  case Status::note_on:
  case Status::poly_pressure:
    return ControlKind::note;
  case Status::control:
    return ControlKind::controller;
  case Status::program:
    return ControlKind::program;
  case Status::bend:
    return ControlKind::wheel;
  default:
    return std::nullopt;
  }
}

} // namespace

std::size_t ControlMask::bit_of(ControlKind kind, int channel, int number) {
  const auto row =
      static_cast<std::size_t>(kind) * channel_count + static_cast<std::size_t>(channel & 0x0F);
  return row * note_count + static_cast<std::size_t>(number & 0x7F);
}

void ControlMask::add(Words& words, const Control& control) {
  const int number = control.kind == ControlKind::wheel ? 0 : control.number;
  for (int channel = 0; channel < channel_count; ++channel)
    if (!control.channel || *control.channel == channel) {
      const auto bit = bit_of(control.kind, channel, number);
      words[bit / 64] |= std::uint64_t{1} << (bit % 64);
    }
}

void ControlMask::set(std::span<const Binding> bindings, std::string_view name) noexcept {
  Words words{};
  for (const auto& binding : bindings)
    if (is_device(binding.device, name))
      add(words, binding.control);
  for (std::size_t i = 0; i < words.size(); ++i)
    words_[i].store(words[i], std::memory_order_relaxed);
}

bool ControlMask::covers(const ShortMessage& message) const noexcept {
  const auto kind = kind_of(message);
  if (!kind)
    return false;
  const auto bit =
      bit_of(*kind, channel_of(message), *kind == ControlKind::wheel ? 0 : message.bytes[1]);
  return ((words_[bit / 64].load(std::memory_order_relaxed) >> (bit % 64)) & 1U) != 0;
}

} // namespace landfall::midi
