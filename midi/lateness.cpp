#include "midi/lateness.hpp"

#include <algorithm>
#include <bit>

namespace landfall::midi {

std::size_t LatenessHistogram::bucket_of(std::uint64_t nanoseconds) noexcept {
  if (nanoseconds < steps)
    return static_cast<std::size_t>(nanoseconds);
  const auto shift = std::bit_width(nanoseconds) - std::bit_width(std::uint64_t{steps});
  const auto bucket = shift * steps + (nanoseconds >> shift);
  return std::min<std::size_t>(bucket, steps * octaves - 1);
}

double LatenessHistogram::middle_of(std::size_t bucket) {
  if (bucket < 2 * steps)
    return static_cast<double>(bucket);
  const auto shift = bucket / steps - 1;
  const auto low = static_cast<double>((bucket - shift * steps) << shift);
  return low + static_cast<double>(std::uint64_t{1} << shift) / 2;
}

void LatenessHistogram::add(Nanoseconds lateness) noexcept {
  const auto count = std::max<std::int64_t>(lateness.count(), 0);
  counts_[bucket_of(static_cast<std::uint64_t>(count))].fetch_add(1, std::memory_order_relaxed);
  if (count > worst_.load(std::memory_order_relaxed))
    worst_.store(count, std::memory_order_relaxed);
  events_.fetch_add(1, std::memory_order_release);
}

LatenessSummary LatenessHistogram::summary() const {
  LatenessSummary result;
  result.events = events_.load(std::memory_order_acquire);
  result.worst_us = static_cast<double>(worst_.load(std::memory_order_relaxed)) / 1000;
  if (result.events == 0)
    return result;
  // ranks from 1: the smallest bucket that holds at least this many events at or below it
  const auto median_rank = (result.events + 1) / 2;
  const auto p99_rank = (result.events * 99 + 99) / 100;
  std::uint64_t seen = 0;
  for (std::size_t i = 0; i < counts_.size() && seen < p99_rank; ++i) {
    const auto before = seen;
    seen += counts_[i].load(std::memory_order_relaxed);
    const double value = std::min(middle_of(i) / 1000, result.worst_us);
    if (before < median_rank && seen >= median_rank)
      result.median_us = value;
    if (before < p99_rank && seen >= p99_rank)
      result.p99_us = value;
  }
  return result;
}

HistogramCounts LatenessHistogram::histogram() const {
  HistogramCounts result{};
  for (std::size_t i = 0; i < counts_.size(); ++i) {
    const double us = middle_of(i) / 1000;
    std::size_t column = 0;
    while (column < histogram_ends_us.size() && us > histogram_ends_us[column])
      ++column;
    result[column] += counts_[i].load(std::memory_order_relaxed);
  }
  return result;
}

} // namespace landfall::midi
