#include "app/run_json.hpp"

#include <doctest/doctest.h>

using landfall::test::lines_of;
using landfall::test::run;

TEST_CASE("spell prints a JSON line for each name, in order") {
  const auto ran = run({"spell", "Cm7b5", "F# dorian", "C/E", "--json"});
  CHECK(ran.exit == 0);
  CHECK(ran.err.empty());
  const auto lines = lines_of(ran);
  REQUIRE(lines.size() == 3);
  CHECK(lines[0] == nlohmann::json::parse(R"({"name":"Cm7b5","kind":"chord","root":"C",
    "notes":["C","Eb","Gb","Bb"],"degrees":["1","b3","b5","b7"],"bass":null})"));
  CHECK(lines[1]["kind"] == "scale");
  CHECK(lines[1]["notes"][6] == "E");
  CHECK(lines[2]["bass"] == "E");
}

TEST_CASE("spell reads names from standard input when it is given none") {
  const auto ran = run({"spell", "--json"}, "Am\n\n  Bb major pentatonic  \n");
  CHECK(ran.exit == 0);
  REQUIRE(lines_of(ran).size() == 2);
  CHECK(lines_of(ran)[1]["name"] == "Bb major pentatonic");
}

TEST_CASE("a name that cannot be read gives its error, the others go on, and the exit is 1") {
  const auto json = run({"spell", "--json", "Am", "Cq", "E"});
  CHECK(json.exit == 1);
  REQUIRE(lines_of(json).size() == 3);
  CHECK(lines_of(json)[1]["name"] == "Cq");
  CHECK(lines_of(json)[1]["error"].get<std::string>().find("column 2") != std::string::npos);
  CHECK(lines_of(json)[2]["root"] == "E");
  const auto text = run({"spell", "Cq"});
  CHECK(text.exit == 1);
  CHECK(text.out.empty());
  CHECK(landfall::test::count_lines(text.err) == 1);
}

TEST_CASE("bytes that are no text do no harm") {
  const auto ran = run({"spell", "--json"}, "C\xff\xfe\n\x01\x02\n");
  CHECK(ran.exit == 1);
  CHECK(lines_of(ran).size() == 2);
}
