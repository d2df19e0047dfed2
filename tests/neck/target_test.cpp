#include "neck/target.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::neck;

TEST_CASE("a target's text reads back as the same target") {
  for (const char* text : {"all", "roots", "thirds", "fifths", "sevenths", "guide tones",
                           "guide line", "1 5", "2 3 6"}) {
    const auto target = parse_target(text);
    REQUIRE(target);
    CHECK(target_text(*target) == text);
  }
  CHECK(target_text(*parse_target("7,3")) == "guide tones");
  CHECK(target_text(*parse_target("B3")) == "thirds");
  CHECK(target_text(*parse_target("9")) == "2");
  CHECK(parse_target("3 x").error().column == 3);
  CHECK_FALSE(parse_target(""));
}

TEST_CASE("only what is aimed at stays a landing note; the rest keeps its place") {
  const auto guitar = standard_guitar();
  Setting setting;
  setting.instrument = &guitar;
  setting.key = theory::parse_key("A").value();
  setting.set = theory::parse_note_set("major pentatonic").value();
  setting.home = find_position(guitar, setting.key, {}).value();
  const auto chord = theory::parse_chord("A7").value();
  const auto before = view(setting, chord).notes;
  auto notes = before;
  aim(notes, parse_target("thirds").value());
  REQUIRE(notes.size() == before.size());
  int thirds = 0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    CHECK(notes[i].fret == before[i].fret);
    if (notes[i].role == Role::landing) {
      ++thirds;
      CHECK(notes[i].degree.number == 3);
    } else if (before[i].role == Role::landing) {
      CHECK(notes[i].role == Role::set);
    }
  }
  CHECK(thirds >= 2);
}

TEST_CASE("a guide line lights one note of each chord") {
  const auto guitar = standard_guitar();
  Setting setting;
  setting.instrument = &guitar;
  setting.key = theory::parse_key("C").value();
  setting.home = find_position(guitar, setting.key, {}).value();
  std::vector<std::optional<theory::Chord>> chords;
  for (const char* name : {"Dm7", "G7", "Cmaj7"})
    chords.push_back(theory::parse_chord(name).value());
  const auto line = guide_line(setting, chords);
  for (std::size_t i = 0; i < chords.size(); ++i) {
    auto notes = landing(setting, chords[i]);
    aim(notes, parse_target("guide line").value(), line[i]);
    const auto lit = std::count_if(notes.begin(), notes.end(),
                                   [](const auto& note) { return note.role == Role::landing; });
    CHECK(lit == 1);
  }
}
