#include "app/run_command.hpp"

#include <doctest/doctest.h>

using landfall::test::run;
using landfall::test::ScratchFolder;

TEST_CASE("every command has --help, on standard output, with exit 0") {
  for (const auto& name : landfall::app::command_names()) {
    CAPTURE(name);
    const auto ran = run({name, "--help"});
    CHECK(ran.exit == 0);
    CHECK(ran.err.empty());
    CHECK(ran.out.find("landfall " + name) != std::string::npos);
  }
  CHECK(run({"--help"}).exit == 0);
  CHECK(run({"--version"}).out.starts_with("landfall "));
}

TEST_CASE("anything wrong on the command line is one line on standard error and exit 2") {
  const std::vector<landfall::app::Arguments> wrong{
      {"spell", "--jsn"},
      {"play"},
      {"play", "slipway-at-six", "--choruses", "none"},
      {"play", "slipway-at-six", "--choruses", "0"},
      {"play", "slipway-at-six", "--tempo", "fast"},
      {"play", "slipway-at-six", "--feel", "wobble"},
      {"neck"},
      {"neck", "Q7"},
      {"neck", "A", "--shape", "B"},
      {"neck", "A", "--key", "H"},
      {"neck", "A", "--set", "sideways"},
      {"neck", "A", "--over", "song"},
      {"neck", "A", "--tuning", "E2 A2 nonsense"},
      {"neck", "A", "--instrument", "kazoo"},
      {"neck", "A", "--position", "99"},
      {"neck", "A", "--capo", "-1"},
      {"neck", "A", "--instrument", "keyboard", "--capo", "3"},
      {"changes", "slipway-at-six", "--capo", "1.5"},
      {"export", "slipway-at-six", "-o", "x.mid", "--seed", "-1"},
      {"export", "slipway-at-six", "-o", "x.mid", "--seed", "99999999999999999999"},
      {"changes", "slipway-at-six", "--position"},
      {"picture", "slipway-at-six"},
      {"picture", "slipway-at-six", "-o", "x.png", "--size", "big"},
      {"picture", "slipway-at-six", "-o", "x.png", "--at", "99:1"},
      {"picture", "slipway-at-six", "-o", "x.png", "--theme", "blue"},
      {"picture", "slipway-at-six", "-o", "x.png", "--board", "half"},
      {"picture", "slipway-at-six", "-o", "x.png", "--sounding", "C"},
      {"check"},
  };
  for (const auto& arguments : wrong) {
    std::string line;
    for (const auto& argument : arguments)
      line += argument + " ";
    CAPTURE(line);
    const auto ran = run(arguments);
    CHECK(ran.exit == 2);
    CHECK(ran.out.empty());
    CHECK(landfall::test::count_lines(ran.err) == 1);
    CHECK(ran.err.starts_with("landfall: "));
  }
}

TEST_CASE("files that are not there or cannot be read are one line and exit 1") {
  const ScratchFolder scratch;
  const auto folder = scratch.path.string();
  const std::vector<landfall::app::Arguments> missing{
      {"changes", "no-such-song"},
      {"changes", folder + "/none.song"},
      {"changes", folder},
      {"picture", "no-such-song", "-o", folder + "/x.png"},
      {"picture", "slipway-at-six", "-o", folder + "/no/\x01/../../../../proc/x.png"},
      {"neck", "A", "--svg", "/proc/nowhere/x.svg"},
  };
  for (const auto& arguments : missing) {
    CAPTURE(arguments.at(1));
    const auto ran = run(arguments);
    CHECK(ran.exit == 1);
    CHECK(landfall::test::count_lines(ran.err) == 1);
  }
}

TEST_CASE("an unknown chord in a song names the file, line and column") {
  const auto ran = run({"changes", "-"}, "title: x\nkey: A\n\n| A | D | Hm | E |\n");
  CHECK(ran.exit == 1);
  CHECK(ran.err.find("standard input:4:11: ") != std::string::npos);
  CHECK(run({"changes", "-"}, "").exit == 1);
  CHECK(run({"changes", "-"}, std::string(10'000'000, '|')).exit == 1);
}
