#include "midi/lateness.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <vector>

using landfall::Nanoseconds;
using landfall::midi::LatenessHistogram;

TEST_CASE("nothing was sent") {
  const auto summary = LatenessHistogram{}.summary();
  CHECK(summary.events == 0);
  CHECK(summary.median_us == 0);
  CHECK(summary.worst_us == 0);
}

TEST_CASE("median, 99th percentile and worst are those of the sorted list, to 2 percent") {
  std::mt19937 random(5);
  for (const double mean_ns : {40.0, 3'000.0, 80'000.0, 20e6}) {
    CAPTURE(mean_ns);
    std::exponential_distribution<double> distribution(1 / mean_ns);
    LatenessHistogram histogram;
    std::vector<double> all;
    for (int i = 0; i < 9'999; ++i) {
      const auto value = static_cast<std::int64_t>(distribution(random));
      histogram.add(Nanoseconds{value});
      all.push_back(static_cast<double>(value) / 1000);
    }
    std::sort(all.begin(), all.end());
    const auto summary = histogram.summary();
    CHECK(summary.events == all.size());
    CHECK(summary.median_us == doctest::Approx(all[4999]).epsilon(0.02));
    CHECK(summary.p99_us == doctest::Approx(all[9899]).epsilon(0.02));
    CHECK(summary.worst_us == doctest::Approx(all.back()));
  }
}

TEST_CASE("hours late and early are taken too") {
  LatenessHistogram histogram;
  histogram.add(std::chrono::hours(100));
  histogram.add(Nanoseconds{-5});
  CHECK(histogram.summary().worst_us == doctest::Approx(360e9));
  CHECK(histogram.summary().median_us == 0);
}

TEST_CASE("the histogram counts each lateness in the column of its end") {
  LatenessHistogram histogram;
  for (const int us : {1, 9, 15, 45, 46, 180, 3000, 20'000, 900'000})
    histogram.add(std::chrono::microseconds(us));
  CHECK(histogram.histogram() == landfall::midi::HistogramCounts{2, 1, 2, 0, 1, 0, 0, 0, 1, 0, 2});
}
