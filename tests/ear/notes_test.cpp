#include "ear/stage.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::test;

namespace {

const Stage blues{.chart = "A | D | E | A", .set = "minor pentatonic"};
const Stage major{.chart = "A | D | E | A", .set = "major"};

/// The classes of the notes, a letter each: landing, set, approach, outside.
std::string classes(const Stage& stage, const char* played) {
  const auto ground = ground_of(stage);
  std::string letters;
  for (const auto& note : ear::judge(ground, heard(events_of(played, ground)), {}).notes)
    letters += "lsao"[static_cast<std::size_t>(note.note_class)];
  return letters;
}

struct Case {
  const char* name;
  Stage stage;
  const char* played;
  const char* classes;
};

} // namespace

TEST_CASE("the class of each note") {
  const std::vector<Case> cases{
      {"chord tone in the set", blues, "1:2 A4 1", "l"},
      {"chord tone outside the set", blues, "1:2 C#4 1", "l"},
      {"in the set", blues, "1:2 D4 1", "s"},
      {"outside", blues, "1:2 G#4 1", "o"},
      {"outside, but a step from a chord tone that follows", blues, "1:2 G#4 1; 1:3 A4 1", "al"},
      {"outside, resolving too late", blues, "1:2 G#4 1; 1:3.5 A4 1", "ol"},
      {"outside, then away", blues, "1:2 G#4 1; 1:3 E4 1", "ol"},
      {"a chain of half steps", major,
       "1:2 F4 0.2; 1:2.25 F#4 0.2; 1:2.5 G4 0.2; 1:2.75 G#4 0.2; "
       "1:3 A4 1",
       "asasl"},
      {"enclosure", major, "1:2 D4 0.4; 1:2.5 C4 0.4; 1:3 C#4 1", "sal"},
      {"first half of an enclosure", blues, "1:2 F#4 0.4; 1:2.5 D#4 0.4; 1:3 E4 1", "aal"},
      {"passing between two of the set", blues, "1:2 D4 0.4; 1:2.5 D#4 0.4; 1:3 E4 0.4", "sal"},
      {"passing, but not to the set", blues, "1:2 G4 0.4; 1:2.5 G#4 0.4; 1:3 D4 0.4", "sos"},
      {"before a change it belongs to the coming chord", blues, "1:4.5 F#4 0.3", "l"},
      {"but not if another follows before the change", blues, "1:4.5 F#4 0.2; 1:4.75 E4 0.2", "os"},
      {"nor outside the window", blues, "1:4 F#4 0.3", "o"},
      {"bent to a chord tone", blues, "1:2 D4 1; glide 1:2 1:2+120 0 200", "l"},
      {"a slow bend home", blues, "1:2 G4 1; glide 1:2+100 1:2+400 0 200", "s"},
      {"a minor third curled up", major, "1:2 C4 1; glide 1:2 1:2+50 0 50", "s"},
      {"a minor third that is not", major, "1:2 C4 1", "o"},
      {"nothing curls over minor",
       {.chart = "Am | Dm", .set = "1 2 4 5"},
       "1:2 C4 1; glide 1:2 1:2+50 0 55",
       "o"},
      {"N.C.: the set only",
       {.chart = "A | N.C.", .set = "major pentatonic"},
       "2:2 A4 1; 2:4 C4 1",
       "so"},
      {"with a target other chord tones are of the set",
       {.chart = "A | D", .set = "major", .target = "thirds"},
       "1:2 C#4 1; 1:3 A4 1",
       "ls"},
      {"all notes of a chord", blues, "1:2 A3+C#4+D4 1", "lls"},
  };
  for (const auto& each : cases)
    CHECK_MESSAGE(classes(each.stage, each.played) == std::string(each.classes),
                  std::string(each.name) << ": " << classes(each.stage, each.played));
}

TEST_CASE("the settled pitch is told in cents from the struck one") {
  const auto ground = ground_of(blues);
  const auto judgement =
      ear::judge(ground, heard(events_of("1:2 D4 1; bend 1:2+20 205", ground)), {});
  REQUIRE(judgement.notes.size() == 1);
  CHECK(judgement.notes[0].midi == 62);
  CHECK(judgement.notes[0].cents == doctest::Approx(205.0));
}

TEST_CASE("at once a note is lit by the present chord, or the coming one's inside its window") {
  const auto ground = ground_of(blues);
  const auto at_once = [&](const char* place, int midi) {
    return ear::class_at_once(ground, tick_of(place, ground), midi);
  };
  CHECK(at_once("1:2", 69) == ear::NoteClass::landing);
  CHECK(at_once("1:2", 62) == ear::NoteClass::set);
  CHECK(at_once("1:2", 66) == ear::NoteClass::outside);
  CHECK(at_once("1:4.6", 66) == ear::NoteClass::landing);
  CHECK(at_once("1:4.6", 69) == ear::NoteClass::landing);
  CHECK(at_once("2:1", 66) == ear::NoteClass::landing);
  CHECK(at_once("2:1", 64) == ear::NoteClass::set);
}
