#include "app/typed_notes.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

TEST_CASE(
    "the computer's rows are strings and its columns frets from the first finger's reach on") {
  const auto guitar = neck::standard_guitar();
  neck::Position position;
  position.low = 4;
  position.high = 7;
  const auto note = typed_note("Q", false, guitar, position);
  REQUIRE(note);
  CHECK(note->string == 2);
  CHECK(note->fret == 3);
  CHECK(note->midi == 59 + 3);
  const auto low = typed_note("X", true, guitar, position);
  REQUIRE(low);
  CHECK(low->string == 6);
  CHECK(low->fret == 4);
  CHECK(low->midi == 44);
  CHECK_FALSE(typed_note("Space", false, guitar, position));
  CHECK_FALSE(typed_note("-", false, guitar, position));
}

TEST_CASE("on a keyboard they are white and black keys") {
  neck::Position position;
  position.low = 64;
  const auto keyboard = neck::standard_keyboard();
  CHECK(typed_note("Z", false, keyboard, position)->midi == 60);
  CHECK(typed_note("S", false, keyboard, position)->midi == 61);
  CHECK(typed_note("Q", false, keyboard, position)->midi == 72);
  CHECK_FALSE(typed_note("A", false, keyboard, position));
}
