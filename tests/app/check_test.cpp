#include "app/run_json.hpp"

#include <doctest/doctest.h>

#include <fstream>

using landfall::test::lines_of;
using landfall::test::run;
using landfall::test::ScratchFolder;

TEST_CASE("check says nothing about good files") {
  std::vector<std::string> arguments{"check"};
  for (const char* folder :
       {"songs", "songs/feels", "songs/instruments", "songs/trading", "songs/phrases"})
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(LANDFALL_SOURCE_DIR) / folder)) {
      const auto ending = entry.path().extension();
      if (ending == ".song" || ending == ".feel" || ending == ".instrument" ||
          ending == ".density" || ending == ".phrase")
        arguments.push_back(entry.path().string());
    }
  REQUIRE(arguments.size() > 20);
  const auto ran = run(arguments);
  CHECK(ran.exit == 0);
  CHECK(ran.err.empty());
}

TEST_CASE("check finds errors and warnings by line and column") {
  const ScratchFolder scratch;
  const auto bad = (scratch.path / "bad.song").string();
  const auto warned = (scratch.path / "warned.song").string();
  std::ofstream(bad) << "title: Bad\n\n| A | Hx | D |\n";
  std::ofstream(warned) << "title: Long\n\n| A / / / / / | D |\n";
  const auto ran = run({"check", "--json", bad});
  CHECK(ran.exit == 1);
  REQUIRE(!lines_of(ran).empty());
  const auto line = lines_of(ran)[0];
  CHECK(line["file"] == bad);
  CHECK(line["line"] == 3);
  CHECK(line["column"] == 7);
  CHECK(line["severity"] == "error");
  CHECK(!line["message"].get<std::string>().empty());
  const auto warning = run({"check", "--json", warned});
  CHECK(warning.exit == 0);
  REQUIRE(lines_of(warning).size() == 1);
  CHECK(lines_of(warning)[0]["severity"] == "warning");
  CHECK(run({"check", warned, bad}).exit == 1);
}

TEST_CASE("check of what is not there, or not ours, is an error") {
  CHECK(run({"check", "/nowhere/x.song"}).exit == 1);
  CHECK(run({"check", LANDFALL_SOURCE_DIR "/CMakeLists.txt"}).exit == 1);
}

TEST_CASE("a feel that is not there is a warning at its name, and told when the song is played") {
  const ScratchFolder scratch;
  const auto file = (scratch.path / "odd.song").string();
  std::ofstream(file) << "title: Odd\nfeel: swing # is there\n| A | D |\nfeel:  wobble\n| E |\n";
  const auto ran = run({"check", "--json", file});
  CHECK(ran.exit == 0);
  REQUIRE(lines_of(ran).size() == 1);
  const auto line = lines_of(ran)[0];
  CHECK(line["line"] == 4);
  CHECK(line["column"] == 8);
  CHECK(line["severity"] == "warning");
  const auto output = (scratch.path / "odd.mid").string();
  const auto exported = run({"export", file, "-o", output});
  CHECK(exported.exit == 0);
  CHECK(exported.err.find("'wobble'") != std::string::npos);
  CHECK(run({"export", file, "-o", output, "--feel", "swing"}).err.empty());
}
