#include "app/run_command.hpp"

#include <doctest/doctest.h>

#include <fstream>

using landfall::test::run;
using landfall::test::ScratchFolder;

namespace {

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string picture(std::vector<std::string> arguments) {
  const ScratchFolder scratch;
  const auto file = scratch.path / "p.png";
  arguments.insert(arguments.begin(), "picture");
  arguments.insert(arguments.end(), {"-o", file.string()});
  const auto ran = run(arguments);
  CAPTURE(ran.err);
  CHECK(ran.exit == 0);
  return bytes_of(file);
}

} // namespace

TEST_CASE("the same picture is the same bytes; another moment, theme or note is another picture") {
  const std::vector<std::string> base{"slipway-at-six", "--at", "2:3.5", "--size", "960x540"};
  const auto first = picture(base);
  CHECK(first.substr(1, 3) == "PNG");
  CHECK(picture(base) == first);
  const auto other = [&](std::vector<std::string> more) {
    more.insert(more.begin(), base.begin(), base.end());
    return picture(more);
  };
  CHECK(other({"--theme", "paper"}) != first);
  CHECK(other({"--sounding", "69"}) != first);
  CHECK(other({"--page", "help"}) != first);
  CHECK(other({"--shape", "C"}) != first);
  CHECK(other({"--instrument", "keyboard"}) != first);
}

TEST_CASE("in the last bar the picture shows the turnaround, however long the song") {
  const ScratchFolder scratch;
  const auto last_bar = [&](const std::string& first) {
    const auto file = scratch.path / (first + ".song");
    std::ofstream out(file);
    out << "title: Sixteen\nkey: A\n\n| " << first << " |";
    for (int bar = 2; bar <= 16; ++bar)
      out << " A |";
    out << '\n';
    out.close();
    return picture({file.string(), "--at", "16:3", "--size", "800x450"});
  };
  CHECK(last_bar("D") != last_bar("E"));
}

TEST_CASE("an unreadable font folder is one clear line") {
  const ScratchFolder scratch;
  std::filesystem::create_directories(scratch.path / "songs");
  std::filesystem::create_directories(scratch.path / "fonts");
  ::setenv("LANDFALL_DATA", scratch.path.c_str(), 1);
  const auto ran = run({"picture", "A | D", "-o", (scratch.path / "p.png").string()});
  ::setenv("LANDFALL_DATA", LANDFALL_SOURCE_DIR, 1);
  CHECK(ran.exit == 1);
  CHECK(landfall::test::count_lines(ran.err) == 1);
  CHECK(ran.err.find("fonts") != std::string::npos);
}
