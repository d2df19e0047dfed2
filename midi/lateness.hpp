#pragma once

#include "time/ticks.hpp"

#include <array>
#include <atomic>
#include <cstdint>

namespace landfall::midi {

/// How late events were sent against their deadlines. Microseconds are accurate to 2 %.
struct LatenessSummary {
  std::uint64_t events = 0;
  double median_us = 0;
  double p99_us = 0;
  double worst_us = 0;
};

/// Upper ends of the columns of a histogram, microseconds; the last column has none.
inline constexpr std::array histogram_ends_us{10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000};
using HistogramCounts = std::array<std::uint64_t, histogram_ends_us.size() + 1>;

/// Counts lateness in buckets that grow with it. Fixed size. One thread adds (real-time safe, never
/// blocks); any thread may summarise meanwhile.
class LatenessHistogram {
public:
  /// Negative lateness counts as none.
  void add(Nanoseconds lateness) noexcept;

  LatenessSummary summary() const;

  /// How many lay up to each end. Any thread.
  HistogramCounts histogram() const;

private:
  static constexpr std::size_t steps = 64; ///< Buckets in an octave.
  static constexpr std::size_t octaves = 36;

  static std::size_t bucket_of(std::uint64_t nanoseconds) noexcept;
  static double middle_of(std::size_t bucket);

  std::array<std::atomic<std::uint32_t>, steps * octaves> counts_{};
  std::atomic<std::uint64_t> events_{0};
  std::atomic<std::int64_t> worst_{0};
};

} // namespace landfall::midi
