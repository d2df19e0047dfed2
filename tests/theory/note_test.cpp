#include "theory/note.hpp"

#include <doctest/doctest.h>

using namespace landfall::theory;

TEST_CASE("a note's text reads back as the same note") {
  for (int letter = 0; letter < 7; ++letter)
    for (int accidental = -2; accidental <= 2; ++accidental) {
      const Note note{static_cast<Letter>(letter), accidental};
      const auto read = parse_note(ascii(note));
      REQUIRE(read);
      CHECK(*read == note);
    }
}

TEST_CASE("signs may be letters or music signs") {
  CHECK(*parse_note("E♭") == Note{Letter::e, -1});
  CHECK(*parse_note("f♯") == Note{Letter::f, 1});
  CHECK(*parse_note("Gx") == Note{Letter::g, 2});
  CHECK(pitch_class(*parse_note("Cb")) == 11);
  CHECK(pitch_class(*parse_note("B#")) == 0);
}

TEST_CASE("what is no note says where") {
  CHECK(parse_note("H").error().column == 1);
  CHECK(parse_note("").error().column == 1);
  CHECK(parse_note("Ebq").error().column == 3);
  CHECK_FALSE(parse_note("Cbbb"));
}

TEST_CASE("MIDI notes are written with octaves from middle C = C4") {
  CHECK(parse_midi_note("E2")->number == 40);
  CHECK(parse_midi_note("C4")->number == 60);
  CHECK(parse_midi_note("B#3")->number == 60);
  CHECK(parse_midi_note("Cb4")->number == 59);
  CHECK(parse_midi_note("C-1")->number == 0);
  CHECK(parse_midi_note("G9")->number == 127);
  CHECK_FALSE(parse_midi_note("G#9"));
  CHECK_FALSE(parse_midi_note("E"));
  for (int number = 0; number < 128; ++number)
    for (const bool flats : {false, true})
      CHECK(parse_midi_note(ascii(MidiNote{number}, flats))->number == number);
}

TEST_CASE("a plain note has the sound and at most one accidental") {
  for (int pitch = 0; pitch < 12; ++pitch)
    for (const bool flats : {false, true}) {
      const auto note = plain_note(pitch, flats);
      CHECK(pitch_class(note) == pitch);
      CHECK((flats ? -note.accidental : note.accidental) >= 0);
      CHECK(std::abs(note.accidental) <= 1);
    }
}
