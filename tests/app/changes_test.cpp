#include "app/run_json.hpp"

#include <doctest/doctest.h>

using landfall::test::json_of;
using landfall::test::run;

TEST_CASE("changes --json lists every bar of one chorus") {
  const auto ran = run({"changes", "slipway-at-six", "--json"});
  REQUIRE(ran.exit == 0);
  const auto json = json_of(ran);
  CHECK(json["key"] == "A");
  CHECK(json["tempo"] == 84);
  REQUIRE(json["bars"].size() == 8);
  const std::string chords[] = {"A", "A", "D", "D", "A", "E", "D", "A"};
  const std::string numerals[] = {"I", "I", "IV", "IV", "I", "V", "IV", "I"};
  for (std::size_t i = 0; i < 8; ++i) {
    const auto& bar = json["bars"][i];
    CHECK(bar["bar"] == i + 1);
    CHECK(bar["meter"] == "4/4");
    REQUIRE(bar["changes"].size() == 1);
    const auto& change = bar["changes"][0];
    CHECK(change["beat"] == 1);
    CHECK(change["chord"] == chords[i]);
    CHECK(change["roman"] == numerals[i]);
    CHECK(change["landing"].size() >= 6);
    for (const char* field : {"string", "fret", "midi", "note", "degree"})
      CHECK(change["landing"][0].contains(field));
  }
  CHECK(json["bars"][0]["changes"][0]["new"] == true);
  CHECK(json["bars"][1]["changes"][0]["new"] == false);
  CHECK(json["bars"][2]["changes"][0]["new"] == true);
}

TEST_CASE("changes moves the song to another key and place") {
  const auto json =
      json_of(run({"changes", "slipway-at-six", "--key", "Eb", "--shape", "C", "--json"}));
  CHECK(json["key"] == "Eb");
  const auto& four = json["bars"][2]["changes"][0];
  CHECK(four["chord"] == "Ab");
  CHECK(four["shape"] == nlohmann::json::parse(R"({"shape":"E","nut":4})"));
  CHECK(four["position"]["low"] == 3);
  CHECK(json["bars"][5]["changes"][0]["shape"]["shape"] == "G");
}

TEST_CASE("several chords a bar, no chord, and a progression as typed") {
  const auto json = json_of(run({"changes", "C / Am / | N.C. | F G", "--json"}));
  REQUIRE(json["bars"].size() == 3);
  CHECK(json["tempo"] == 120);
  CHECK(json["bars"][0]["changes"][1]["beat"] == 3);
  CHECK(json["bars"][0]["changes"][1]["chord"] == "Am");
  CHECK(json["bars"][1]["changes"][0]["chord"].is_null());
  CHECK(json["bars"][1]["changes"][0]["landing"].empty());
  CHECK(json["bars"][2]["changes"][1]["beat"] == 3);
}

TEST_CASE("every shipped song lists its changes") {
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(LANDFALL_SOURCE_DIR) / "songs"))
    if (entry.path().extension() == ".song") {
      CAPTURE(entry.path().string());
      const auto ran = run({"changes", entry.path().stem().string(), "--json"});
      CHECK(ran.exit == 0);
      CHECK(run({"changes", entry.path().string()}).exit == 0);
    }
}
