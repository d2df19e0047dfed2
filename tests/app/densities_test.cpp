#include "app/densities.hpp"
#include "app/own_data.hpp"
#include "app/run_command.hpp"

#include <doctest/doctest.h>

#include <fstream>

using namespace landfall;
using landfall::test::OwnData;
using landfall::test::ScratchFolder;

TEST_CASE("densities are the shipped ones, the player's own before them") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  std::vector<std::string> problems;
  CHECK(app::load_densities(problems) == trade::plain_densities());
  const auto folder = scratch.path / "landfall" / "trading";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "medium.density") << "name: mine\nnotes: 13\n";
  const auto densities = app::load_densities(problems);
  REQUIRE(densities.size() == 3);
  CHECK(densities[1].name == "medium");
  CHECK(densities[1].notes == 13);
  CHECK(densities[0] == trade::plain_densities()[0]);
  CHECK(problems.empty());
}

TEST_CASE("a density file that can't be read leaves the shipped one, and is told") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  const auto folder = scratch.path / "landfall" / "trading";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "dense.density") << "name: dense\nnotes: lots\n";
  std::vector<std::string> problems;
  CHECK(app::load_densities(problems) == trade::plain_densities());
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].find("dense.density:2:8: expected a number") != std::string::npos);
}
