// Pictures of the shipped default song, drawn by the built program, against approved ones.
// LANDFALL_APPROVE=1 writes the approved files anew; look at them before committing.

#include "real/program.hpp"
#include "render/png.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>

using namespace landfall;
using namespace landfall::real;

namespace {

int difference(std::uint32_t a, std::uint32_t b) {
  int most = 0;
  for (const int shift : {0, 8, 16})
    most = std::max(most, std::abs(static_cast<int>((a >> shift) & 0xFF) -
                                   static_cast<int>((b >> shift) & 0xFF)));
  return most;
}

void draw(const Program& program, const std::string& theme, const std::string& path) {
  const auto done = program.run({"picture", "slipway-at-six", "--at", "4:3", "--sounding", "64,67",
                                 "--size", "960x540", "--theme", theme, "-o", path});
  INFO(done.err);
  REQUIRE(done.exit == 0);
  CHECK(done.err.empty());
}

} // namespace

TEST_CASE("pictures of the default song are those approved" *
          doctest::skip(!render::png_supported())) {
  const Program program;
  for (const std::string theme : {"stage", "paper"}) {
    CAPTURE(theme);
    const auto path = program.file(theme + ".png");
    const auto approved =
        std::string(LANDFALL_SOURCE_DIR) + "/tests/real/approved/" + theme + ".png";
    draw(program, theme, path);
    if (std::getenv("LANDFALL_APPROVE") != nullptr) {
      std::filesystem::create_directories(std::filesystem::path(approved).parent_path());
      std::filesystem::copy_file(path, approved, std::filesystem::copy_options::overwrite_existing);
    }
    const auto now = render::read_png(path);
    const auto expected = render::read_png(approved);
    REQUIRE(now);
    REQUIRE(expected);
    REQUIRE(now->size == expected->size);
    std::size_t different = 0;
    for (std::size_t i = 0; i < now->pixels.size(); ++i)
      different += difference(now->pixels[i], expected->pixels[i]) > 24 ? 1 : 0;
    CHECK(different < now->pixels.size() / 1000);
  }
}

TEST_CASE("a picture is the same every time, and another one at another place") {
  const Program program;
  const auto one = program.file("one.png"), same = program.file("same.png");
  draw(program, "stage", one);
  draw(program, "stage", same);
  CHECK(read_file(one) == read_file(same));
  const auto other = program.file("other.png");
  CHECK(program.run({"picture", "slipway-at-six", "--at", "5:1", "--size", "960x540", "-o", other})
            .exit == 0);
  CHECK_FALSE(read_file(one) == read_file(other));
}
