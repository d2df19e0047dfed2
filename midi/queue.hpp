#pragma once

#include <atomic>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <type_traits>

namespace landfall::midi {

/// A bounded queue between exactly one pushing and one popping thread. All memory is taken by the
/// constructor; push and pop are wait-free, never allocate and never throw.
template <typename T> class Queue {
  static_assert(std::is_trivially_copyable_v<T>);

public:
  /// Holds at least `capacity` items (rounded up to a power of two).
  explicit Queue(std::size_t capacity)
      : mask_(std::bit_ceil(capacity < 2 ? std::size_t{2} : capacity) - 1),
        items_(std::make_unique<T[]>(mask_ + 1)) {}

  std::size_t capacity() const noexcept { return mask_ + 1; }

  /// False when full: the item is lost and counted. Pushing thread only; real-time safe.
  bool push(const T& item) noexcept {
    const auto head = head_.load(std::memory_order_relaxed);
    if (head - tail_.load(std::memory_order_acquire) > mask_) {
      drops_.fetch_add(1, std::memory_order_relaxed);
      return false;
    }
    items_[head & mask_] = item;
    head_.store(head + 1, std::memory_order_release);
    return true;
  }

  /// False when empty: `item` is untouched. Popping thread only; real-time safe.
  bool pop(T& item) noexcept {
    if (!peek(item))
      return false;
    tail_.store(tail_.load(std::memory_order_relaxed) + 1, std::memory_order_release);
    return true;
  }

  /// As pop, but the item stays. Popping thread only; real-time safe.
  bool peek(T& item) const noexcept {
    const auto tail = tail_.load(std::memory_order_relaxed);
    if (tail == head_.load(std::memory_order_acquire))
      return false;
    item = items_[tail & mask_];
    return true;
  }

  /// Where the items lie.
  std::span<const T> memory() const noexcept { return {items_.get(), capacity()}; }

  /// Items that push refused. Any thread.
  std::uint64_t drops() const noexcept { return drops_.load(std::memory_order_relaxed); }

private:
  static constexpr std::size_t line = 64;

  const std::size_t mask_;
  const std::unique_ptr<T[]> items_;
  alignas(line) std::atomic<std::size_t> head_{0};
  alignas(line) std::atomic<std::size_t> tail_{0};
  alignas(line) std::atomic<std::uint64_t> drops_{0};
};

} // namespace landfall::midi
