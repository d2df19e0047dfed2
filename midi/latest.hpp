#pragma once

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <type_traits>

namespace landfall::midi {

/// The newest value of one writing thread, for any number of reading threads.
///
/// A sequence lock over four slots: the writer never touches the slot that readers are sent to, so
/// a reader that has interrupted the writer half-way, at real-time priority and on the same core,
/// still finishes. It reads again only if three values were published while it copied one.
template <typename T> class Latest {
  static_assert(std::is_trivially_copyable_v<T> && std::is_default_constructible_v<T>);

public:
  explicit Latest(const T& first = T{}) noexcept { write(0, first); }

  /// Writing thread only; never blocks or allocates.
  void publish(const T& value) noexcept {
    const auto next = version_.load(std::memory_order_relaxed) + 1;
    write(next, value);
    version_.store(next, std::memory_order_release);
  }

  /// The newest value. Any thread; real-time safe.
  T read() const noexcept {
    std::uint64_t version = 0;
    return read(version);
  }

  /// As read; `version` becomes the number of values published before and with this one, from 0
  /// for the first. Any thread; real-time safe.
  T read(std::uint64_t& version) const noexcept {
    Words words;
    do {
      version = version_.load(std::memory_order_acquire);
      const Slot& slot = slots_[version % slot_count];
      for (std::size_t i = 0; i < word_count; ++i)
        words[i] = slot[i].load(std::memory_order_acquire);
    } while (version_.load(std::memory_order_relaxed) - version >= slot_count - 1);
    T value;
    std::memcpy(static_cast<void*>(&value), words.data(), sizeof(T));
    return value;
  }

  /// Any thread; real-time safe.
  std::uint64_t version() const noexcept { return version_.load(std::memory_order_acquire); }

private:
  static constexpr std::size_t slot_count = 4;
  static constexpr std::size_t word_count = (sizeof(T) + 7) / 8;
  using Words = std::array<std::uint64_t, word_count>;
  using Slot = std::array<std::atomic<std::uint64_t>, word_count>;

  // Release on every word (and acquire on every load) instead of fences: whoever sees a word of a
  // slot that is being written again also sees the version that led up to it.
  void write(std::uint64_t version, const T& value) noexcept {
    Words words{};
    std::memcpy(words.data(), &value, sizeof(T));
    Slot& slot = slots_[version % slot_count];
    for (std::size_t i = 0; i < word_count; ++i)
      slot[i].store(words[i], std::memory_order_release);
  }

  std::array<Slot, slot_count> slots_{};
  alignas(64) std::atomic<std::uint64_t> version_{0};
};

} // namespace landfall::midi
