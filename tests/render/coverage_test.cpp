#include "render/coverage.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <numbers>
#include <numeric>

using namespace landfall::render;

namespace {

double area(const Coverage& c) {
  return std::accumulate(c.pixels.begin(), c.pixels.end(), 0.0) / 255.0;
}

/// Share of the whole area in a quarter: 0 upper right, then clockwise.
double quarter(const Coverage& c, int which) {
  const int half = c.width / 2;
  double sum = 0;
  for (int y = 0; y < c.height; ++y)
    for (int x = 0; x < c.width; ++x) {
      const int here = x >= half ? (y < half ? 0 : 1) : (y >= half ? 2 : 3);
      if (here == which)
        sum += c.pixels[static_cast<std::size_t>(y * c.width + x)] / 255.0;
    }
  return sum / area(c);
}

constexpr double pi = std::numbers::pi;

} // namespace

TEST_CASE("a disc covers its area") {
  for (const float radius : {3.0F, 7.5F, 33.0F})
    CHECK(area(disc_coverage(radius)) == doctest::Approx(pi * radius * radius).epsilon(0.01));
}

TEST_CASE("a ring covers its stroke and not its middle") {
  const Coverage ring = ring_coverage(20.0F, 4.0F);
  CHECK(area(ring) == doctest::Approx(2 * pi * 20 * 4).epsilon(0.01));
  CHECK(ring.pixels[static_cast<std::size_t>(ring.height / 2 * ring.width + ring.width / 2)] == 0);
}

TEST_CASE("shapes are symmetrical and fit their square") {
  for (const Coverage& c : {disc_coverage(12.3F), ring_coverage(17.0F, 2.5F)}) {
    const auto at = [&](int x, int y) {
      return c.pixels[static_cast<std::size_t>(y * c.width + x)];
    };
    for (int y = 0; y < c.height; ++y)
      for (int x = 0; x < c.width; ++x)
        CHECK(at(x, y) == at(c.width - 1 - x, y));
    for (int i = 0; i < c.width; ++i)
      CHECK(at(i, 0) == 0);
  }
}

TEST_CASE("an arc starts at twelve o'clock and goes clockwise") {
  const Coverage arc = arc_coverage(40.0F, 4.0F, 0.25F);
  CHECK(quarter(arc, 0) > 0.9);
  const Coverage half = arc_coverage(40.0F, 4.0F, 0.5F);
  CHECK(quarter(half, 0) == doctest::Approx(0.5).epsilon(0.05));
  CHECK(quarter(half, 1) == doctest::Approx(0.5).epsilon(0.05));
}

TEST_CASE("an arc grows in proportion and is the whole ring at one") {
  double before = 0;
  for (int i = 1; i < 20; ++i) {
    const double now = area(arc_coverage(40.0F, 4.0F, static_cast<float>(i) / 20));
    CHECK(now > before);
    CHECK(now == doctest::Approx(2 * pi * 40 * 4 * i / 20 + 4 * pi).epsilon(0.03));
    before = now;
  }
  CHECK(arc_coverage(40.0F, 4.0F, 1.0F).pixels == ring_coverage(40.0F, 4.0F).pixels);
}

TEST_CASE("a line covers its length and its round ends, whatever its direction") {
  struct To {
    int across, down;
  };
  for (const To to : {To{90, 40}, To{90, -40}, To{-90, 40}, To{0, 70}, To{50, 0}, To{0, 0}})
    for (const float stroke : {1.5F, 6.0F}) {
      INFO(to.across << " " << to.down << " " << stroke);
      const double length = std::hypot(to.across, to.down);
      const double whole = length * stroke + pi * stroke * stroke / 4;
      CHECK(std::abs(area(line_coverage(to.across, to.down, stroke)) - whole) < 0.5 + 0.01 * whole);
    }
}

TEST_CASE("a line goes from one corner to the other and leaves the others empty") {
  const Coverage falling = line_coverage(40, 40, 4.0F), rising = line_coverage(40, -40, 4.0F);
  CHECK(quarter(falling, 3) + quarter(falling, 1) > 0.9);
  CHECK(quarter(rising, 0) + quarter(rising, 2) > 0.9);
}
