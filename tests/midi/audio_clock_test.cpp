#include "midi/audio_clock.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <random>

using namespace landfall;
using landfall::midi::AudioClock;

namespace {

const TimePoint origin{Nanoseconds{77'777'777'777'777}};

/// When a perfect device would ask for frame `frame`.
TimePoint ideal(std::int64_t frame, double rate) {
  return origin + Nanoseconds{std::llround(static_cast<double>(frame) * 1e9 / rate)};
}

/// Runs `seconds` of blocks that are asked for up to `jitter_us` late; returns the worst error in
/// frames over the last half.
double worst_error(double claimed, double real, int seconds, int jitter_us, unsigned seed) {
  constexpr std::int64_t block = 256;
  AudioClock clock(claimed);
  std::mt19937 random(seed);
  double worst = 0;
  const auto blocks = static_cast<std::int64_t>(seconds * real) / block;
  for (std::int64_t i = 0; i < blocks; ++i) {
    const Nanoseconds late{
        jitter_us == 0 ? 0 : static_cast<std::int64_t>(random()) % (jitter_us * 1000)};
    clock.block(ideal(i * block, real) + late, i * block, block);
    if (i > blocks / 2) {
      const auto frame = clock.frame_at(ideal(i * block + 77, real));
      worst = std::max(worst, std::abs(static_cast<double>(frame - (i * block + 77))));
    }
  }
  return worst;
}

} // namespace

TEST_CASE("a steady device: the frame is exact") {
  CHECK(worst_error(48'000, 48'000, 10, 0, 1) <= 1);
  CHECK(worst_error(44'100, 44'100, 10, 0, 1) <= 1);
}

TEST_CASE("a device whose rate is a little off is followed") {
  CHECK(worst_error(48'000, 48'000 * 1.0005, 60, 0, 1) <= 1);
  CHECK(worst_error(48'000, 48'000 * 0.9995, 60, 0, 1) <= 1);
}

TEST_CASE("jitter is smoothed: 20 seeds, less than a third of it is left") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    // 2 ms of lateness are 96 frames; their mean is a constant, known delay of 48
    const double worst = worst_error(48'000, 48'000, 30, 2'000, seed);
    CHECK(worst > 48 - 16);
    CHECK(worst < 48 + 16);
  }
}

TEST_CASE("after a gap the clock begins anew") {
  AudioClock clock(48'000);
  clock.block(origin, 0, 256);
  clock.block(origin + std::chrono::seconds(5), 256, 256);
  CHECK(clock.frame_at(origin + std::chrono::seconds(5)) == 256);
  CHECK(clock.frame_at(origin + std::chrono::seconds(5) + std::chrono::milliseconds(1)) == 304);
}

TEST_CASE("a device that leaves blocks out: each time no more than two milliseconds are left") {
  constexpr std::int64_t block = 64;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    AudioClock clock(48'000, 0.9);
    std::int64_t time = 0; // in frames
    double worst = 0;
    for (std::int64_t frame = 0; frame < 48'000 * 10; frame += block, time += block) {
      if (random() % 50 == 0)
        time += block * static_cast<std::int64_t>(random() % 40);
      clock.block(ideal(time, 48'000), frame, block);
      const auto off = clock.frame_at(ideal(time, 48'000)) - frame;
      worst = std::max(worst, std::abs(static_cast<double>(off)));
    }
    CHECK(worst <= 96);
  }
}

TEST_CASE("blocks asked for together are no gap to a device that does so") {
  AudioClock clock(48'000);
  for (std::int64_t frame = 0; frame < 48'000 * 20; frame += 512) {
    clock.block(ideal(frame, 48'000), frame, 256);
    clock.block(ideal(frame + 1, 48'000), frame + 256, 256);
    if (frame > 48'000 * 10) {
      const auto at = clock.frame_at(ideal(frame, 48'000));
      CHECK(std::abs(at - frame) <= 256);
    }
  }
}

TEST_CASE("frames before the block are counted down") {
  AudioClock clock(48'000);
  clock.block(origin, 1'000, 256);
  CHECK(clock.frame_at(origin - std::chrono::milliseconds(1)) == 952);
  CHECK(clock.frame_at(origin - Nanoseconds{1}) == 999);
}
