#include "app/live_feels.hpp"
#include "app/own_data.hpp"
#include "app/run_command.hpp"

#include <doctest/doctest.h>

#include <fstream>

using namespace landfall;
using namespace landfall::app;
using landfall::test::OwnData;
using landfall::test::ScratchFolder;

namespace {

void write(const std::filesystem::path& path, const std::string& text) {
  std::filesystem::create_directories(path.parent_path());
  std::ofstream(path) << text;
}

std::string feel_about(const std::string& about) {
  return "name: lighthouse\nabout: " + about + R"(
meter: 4/4
drums:
  kick | X . . . |
bass:
  line | 1 - - - |
comping:
  chords | x - - - |
)";
}

} // namespace

TEST_CASE("a feel file is read anew when it changes, and a bad one leaves the feel as it was") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  const auto file = scratch.path / "landfall" / "feels" / "lighthouse.feel";
  write(file, feel_about("First."));
  std::vector<std::string> problems;
  LiveFeels feels(FeelFolder::load(problems));
  CAPTURE((problems.empty() ? std::string() : problems.front()));
  REQUIRE(problems.empty());
  const auto* first = feels.find("lighthouse");
  CHECK(first->about == "First.");
  CHECK(feels.refresh().empty());

  write(file, feel_about("Second one."));
  CHECK(feels.refresh() == "the feels were read anew");
  CHECK(feels.refresh().empty());
  CHECK(feels.find("lighthouse")->about == "Second one.");
  CHECK(first->about == "First."); // whoever still plays from it may

  write(file, feel_about("Third.") + "nonsense |\n");
  const auto problem = feels.refresh();
  CHECK(problem.find("lighthouse.feel:") != std::string::npos);
  CHECK(problem.find('\n') == std::string::npos);
  CHECK(feels.find("lighthouse")->about == "Second one.");

  write(file, feel_about("Fourth, mended."));
  CHECK(!feels.refresh().empty());
  CHECK(feels.find("lighthouse")->about == "Fourth, mended.");
  CHECK(feels.find("no such feel") != nullptr);
}
