#include "trade/density.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

using namespace landfall;
using namespace landfall::trade;

namespace {

std::string shipped(const std::string& name) {
  std::ifstream file(LANDFALL_SOURCE_DIR "/songs/trading/" + name + ".density", std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

TextError error_of(std::string_view text) {
  const auto density = parse_density(text);
  REQUIRE(!density);
  return density.error();
}

} // namespace

TEST_CASE("the program's own densities are those that are shipped") {
  REQUIRE(plain_densities().size() == 3);
  for (const auto& own : plain_densities()) {
    const auto read = parse_density(shipped(own.name));
    REQUIRE(read);
    CHECK(*read == own);
  }
}

TEST_CASE("an error in a density file points at its line and column") {
  CHECK(error_of("") == TextError{"expected a line `name: ...`", 1, 1});
  CHECK(error_of("name: x\nnotes: 99") == TextError{"expected a number from 1 to 32", 8, 2});
  CHECK(error_of("name: x\n  shortest:  minim\n").column == 14);
  CHECK(error_of("name: x\nname: y\n").line == 2);
  CHECK(error_of("name: x\nspeed: 3\n").column == 1);
  CHECK(error_of("name:").reason == "expected a text");
}

TEST_CASE("between densities every number moves evenly, and the ends are the ends") {
  const auto& three = plain_densities();
  CHECK(between(three, -1.0) == three[0]);
  CHECK(between(three, 0.5) == three[1]);
  CHECK(between(three, 2.0) == three[2]);
  const auto half = between(three, 0.25);
  CHECK(half.notes == (three[0].notes + three[1].notes) / 2);
  int last = 0;
  for (double amount = 0.0; amount <= 1.0; amount += 0.05) {
    CHECK(between(three, amount).notes >= last);
    last = between(three, amount).notes;
  }
}
