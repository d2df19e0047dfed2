#pragma once

#include "midi/control_binding.hpp"

#include <array>
#include <atomic>
#include <span>

namespace landfall::midi {

/// Which messages of one input belong to bound controls, and so must not sound. One thread writes;
/// the input's callback reads. Fixed size, without locks.
class ControlMask {
public:
  /// The controls among `bindings` that hold for the port `name`, in place of those before.
  void set(std::span<const Binding> bindings, std::string_view name) noexcept;

  /// Real-time safe.
  bool covers(const ShortMessage& message) const noexcept;

private:
  static constexpr std::size_t words_per_kind = channel_count * note_count / 64;
  using Words = std::array<std::uint64_t, 4 * words_per_kind>;

  static std::size_t bit_of(ControlKind kind, int channel, int number);
  static void add(Words& words, const Control& control);

  std::array<std::atomic<std::uint64_t>, 4 * words_per_kind> words_{};
};

} // namespace landfall::midi
