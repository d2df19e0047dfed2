#include "practice/groove.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

using namespace landfall;

namespace {

trade::Groove groove_of(const std::string& feel) {
  std::ifstream file(LANDFALL_SOURCE_DIR "/songs/feels/" + feel + ".feel", std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  return practice::groove_of(band::parse_feel(text).value());
}

} // namespace

TEST_CASE("calls divide the beat as the feel does") {
  CHECK(groove_of("straight-eighths") == trade::Groove{});
  CHECK(groove_of("swing") == trade::Groove{{640, false}, false, false});
  CHECK(groove_of("sixteenth-funk").sixteenths);
  CHECK(groove_of("slow-twelve-eight").ternary);
  CHECK(groove_of("six-eight-ballad").ternary);
}
