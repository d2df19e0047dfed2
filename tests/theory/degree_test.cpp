#include "theory/degree.hpp"

#include <doctest/doctest.h>

using namespace landfall::theory;

TEST_CASE("a degree's text reads back as the same degree") {
  for (int number = 1; number <= 13; ++number)
    for (int alteration = -2; alteration <= 2; ++alteration) {
      const Degree degree{number, alteration};
      const auto read = parse_degree(ascii(degree));
      REQUIRE(read);
      CHECK(*read == degree);
    }
  CHECK(*parse_degree("♭7") == Degree{7, -1});
}

TEST_CASE("what is no degree is refused") {
  for (const char* text : {"", "b", "0", "14", "3b", "x", "b b3", "99999999999999"})
    CHECK_FALSE(parse_degree(text));
}

TEST_CASE("note_at and degree_between are each other's inverse") {
  for (int letter = 0; letter < 7; ++letter)
    for (int accidental = -1; accidental <= 1; ++accidental)
      for (int number = 1; number <= 7; ++number)
        for (int alteration = -1; alteration <= 1; ++alteration) {
          const Note root{static_cast<Letter>(letter), accidental};
          const Degree degree{number, alteration};
          CHECK(degree_between(root, note_at(root, degree)) == degree);
        }
}

TEST_CASE("spelling keeps a letter for each number") {
  const Note f_sharp{Letter::f, 1};
  CHECK(ascii(note_at(f_sharp, {3, 0})) == "A#");
  CHECK(ascii(note_at(f_sharp, {7, 0})) == "E#");
  CHECK(ascii(note_at({Letter::c, 0}, {7, -2})) == "Bbb");
  CHECK(half_steps({9, -1}) == 13);
  CHECK(pitch_class(Degree{13, 0}) == 9);
  CHECK(folded({9, -1}) == Degree{2, -1});
}
