#include "band/pulse.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::band;

namespace {

std::vector<std::int64_t> starts(song::Meter meter) {
  std::vector<std::int64_t> result;
  for (const auto& pulse : pulses(meter))
    result.push_back(pulse.start.count);
  return result;
}

std::int64_t offset(int cell, int cells, int share, bool sixteenths = false) {
  return cell_offset({{0}, quarter, false}, cell, cells, {share, sixteenths}, false).count;
}

} // namespace

TEST_CASE("pulses are what the foot taps") {
  using Starts = std::vector<std::int64_t>;
  CHECK(starts({4, 4}) == Starts{0, 960, 1920, 2880});
  CHECK(starts({3, 4}) == Starts{0, 960, 1920});
  CHECK(starts({2, 2}) == Starts{0, 960, 1920, 2880});
  CHECK(starts({12, 8}) == Starts{0, 1440, 2880, 4320});
  CHECK(starts({6, 8}) == Starts{0, 1440});
  CHECK(starts({3, 8}) == Starts{0});
  CHECK(starts({5, 8}) == Starts{0, 960});
  CHECK(starts({7, 8}) == Starts{0, 960, 1920});
  CHECK(starts({7, 16}) == Starts{0, 480, 960});
  CHECK(starts({1, 8}) == Starts{0});
}

TEST_CASE("pulses fill every bar without gaps") {
  for (const int unit : {2, 4, 8, 16})
    for (int beats = 1; beats <= 16; ++beats) {
      CAPTURE(beats);
      CAPTURE(unit);
      Ticks at{0};
      for (const auto& pulse : pulses({beats, unit})) {
        CHECK(pulse.start == at);
        CHECK(pulse.length > Ticks{0});
        at += pulse.length;
      }
      CHECK(at == song::bar_length({beats, unit}));
    }
}

TEST_CASE("a pattern's beats are laid on other metres from the first to the last") {
  using Beats = std::vector<int>;
  CHECK(beats_for(4, 4) == Beats{0, 1, 2, 3});
  CHECK(beats_for(4, 3) == Beats{0, 1, 3});
  CHECK(beats_for(4, 2) == Beats{0, 3});
  CHECK(beats_for(4, 1) == Beats{0});
  CHECK(beats_for(4, 5) == Beats{0, 1, 1, 2, 3});
  CHECK(beats_for(4, 6) == Beats{0, 1, 2, 1, 2, 3});
  CHECK(beats_for(3, 4) == Beats{0, 1, 0, 2});
  CHECK(beats_for(2, 4) == Beats{0, 1, 0, 1});
  CHECK(beats_for(5, 4) == Beats{0, 1, 3, 4});
  for (int written = 1; written <= 16; ++written)
    for (int wanted = 1; wanted <= 32; ++wanted) {
      const auto beats = beats_for(written, wanted);
      REQUIRE(static_cast<int>(beats.size()) == wanted);
      CHECK(beats.front() == 0);
      if (wanted > 1)
        CHECK(beats.back() == written - 1);
      for (const int beat : beats)
        CHECK((beat >= 0 && beat < written));
    }
}

TEST_CASE("swing moves the second of a pair and nothing on the beat") {
  CHECK(offset(1, 2, 500) == 480);
  CHECK(offset(1, 2, 667) == 640);
  CHECK(offset(1, 2, 600) == 576);
  CHECK(offset(1, 4, 600) == 288);
  CHECK(offset(3, 4, 600) == 768);
  CHECK(offset(1, 4, 600, true) == 288);
  CHECK(offset(2, 4, 600, true) == 480);
  CHECK(offset(3, 4, 600, true) == 768);
  CHECK(offset(1, 3, 600) == 320);
  CHECK(offset(2, 3, 600) == 640);
  CHECK(offset(5, 6, 600) == 800);
}

TEST_CASE("a dotted pulse gives binary cells the triplet's places") {
  const Pulse dotted{{0}, {1440}, true};
  CHECK(cell_offset(dotted, 1, 2, {500, false}, false).count == 960);
  CHECK(cell_offset(dotted, 1, 4, {500, false}, false).count == 480);
  CHECK(cell_offset(dotted, 3, 4, {500, false}, false).count == 1200);
  CHECK(cell_offset(dotted, 1, 2, {500, false}, true).count == 720);
  CHECK(cell_offset(dotted, 2, 3, {500, false}, true).count == 960);
}

TEST_CASE("cells rise within every pulse") {
  for (const int cells : {1, 2, 3, 4, 6, 8, 12})
    for (const bool ternary : {false, true})
      for (const bool compound : {false, true})
        for (const int share : {500, 583, 667, 800}) {
          const Pulse pulse{{0}, {ternary ? 1440 : 960}, ternary};
          Ticks before{-1};
          for (int cell = 0; cell < cells; ++cell)
            for (const auto at : {cell_offset(pulse, cell, cells, {share, false}, compound)}) {
              CHECK(at > before);
              CHECK(at < pulse.length);
              before = at;
            }
        }
}
