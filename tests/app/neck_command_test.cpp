#include "app/run_json.hpp"

#include <doctest/doctest.h>

#include <fstream>

using landfall::test::json_of;
using landfall::test::run;
using landfall::test::ScratchFolder;

TEST_CASE("neck --json has every field of its contract") {
  const auto ran = run({"neck", "Ab7", "--key", "Eb", "--shape", "C", "--json"});
  REQUIRE(ran.exit == 0);
  const auto json = json_of(ran);
  CHECK(json["instrument"].is_string());
  CHECK(json["tuning"] == nlohmann::json({"E2", "A2", "D3", "G3", "B3", "E4"}));
  CHECK(json["key"] == "Eb");
  CHECK(json["chord"] == "Ab7");
  CHECK(json["set"] == "arpeggio");
  CHECK(json["over"] == "chord");
  CHECK(json["position"] == nlohmann::json::parse(R"({"shape":"C","nut":3,"low":3,"high":6})"));
  CHECK(json["chord_shape"] == nlohmann::json::parse(R"({"shape":"E","nut":4})"));
  REQUIRE(json["notes"].size() > 8);
  for (const auto& note : json["notes"]) {
    for (const char* field :
         {"string", "fret", "midi", "note", "degree", "role", "in_set", "in_grip", "reach"})
      CHECK(note.contains(field));
    CHECK(note["role"] == "landing");
  }
  REQUIRE(!json["groups"].empty());
  CHECK(json["groups"][0]["strings"].size() == 3);
  REQUIRE(!json["grips"].empty());
  CHECK(json["grips"][0]["frets"].size() == 6);
}

TEST_CASE("the key of neck is the chord's root, minor if the chord is; scales bring their own") {
  CHECK(json_of(run({"neck", "Ebm7", "--json"}))["key"] == "Ebm");
  CHECK(json_of(run({"neck", "D9", "--json"}))["key"] == "D");
  const auto scale = json_of(run({"neck", "A minor pentatonic", "--shape", "C", "--json"}));
  CHECK(scale["key"] == "Am");
  CHECK(scale["chord"] == "Am");
  CHECK(scale["set"] == "minor pentatonic");
  CHECK(scale["over"] == "key");
  std::map<int, std::vector<int>> frets;
  for (const auto& note : scale["notes"])
    if (note["in_set"])
      frets[note["string"]].push_back(note["fret"]);
  CHECK(frets[6] == std::vector<int>{10, 12});
  CHECK(frets[3] == std::vector<int>{9, 12});
  CHECK(frets[2] == std::vector<int>{10, 13});
}

TEST_CASE("a scale over a chord keeps its own root") {
  const auto json = json_of(run({"neck", "C major", "--chord", "G7", "--json"}));
  CHECK(json["key"] == "C");
  CHECK(json["chord"] == "G7");
  CHECK(json["set"] == "major");
  for (const auto& note : json["notes"])
    CHECK(note["in_set"] == true);
}

TEST_CASE("chord tones outside the set have their role, and out of a set without any all are lit") {
  const auto json =
      json_of(run({"neck", "A7", "--set", "major pentatonic", "--over", "chord", "--json"}));
  bool outside = false;
  for (const auto& note : json["notes"])
    if (note["degree"] == "b7") {
      outside = true;
      CHECK(note["role"] == "chord");
      CHECK(note["in_set"] == false);
    }
  CHECK(outside);
  const auto none = json_of(run({"neck", "C", "--set", "2 4 6", "--over", "chord", "--json"}));
  for (const auto& note : none["notes"])
    if (note["role"] == "landing")
      CHECK(note["in_set"] == false);
}

TEST_CASE("a keyboard has no strings, frets or shapes") {
  const auto json = json_of(run({"neck", "C", "--instrument", "keyboard", "--json"}));
  CHECK(json["position"]["shape"].is_null());
  CHECK(json["position"]["low"] == 60);
  for (const auto& note : json["notes"]) {
    CHECK(note["string"].is_null());
    CHECK(note["fret"].is_null());
  }
}

TEST_CASE("neck writes text of at most 80 columns, sentences, and a drawing") {
  const ScratchFolder scratch;
  const auto file = (scratch.path / "a.svg").string();
  std::istringstream text(run({"neck", "F#m7b5", "--shape", "A"}).out);
  for (std::string line; std::getline(text, line);)
    CHECK(line.size() <= 80);
  CHECK(run({"neck", "F#m7b5", "--plain"}).out.find("string") != std::string::npos);
  CHECK(run({"neck", "A", "--svg", file}).exit == 0);
  std::ifstream svg(file);
  std::string first;
  std::getline(svg, first);
  CHECK(first.find("<") == 0);
}
