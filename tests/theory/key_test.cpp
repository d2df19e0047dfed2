#include "theory/key.hpp"

#include <doctest/doctest.h>

using namespace landfall::theory;

namespace {
Key key(const char* text) {
  return parse_key(text).value();
}
std::string moved(const char* chord, const char* from, const char* to) {
  return ascii(transposed(parse_chord(chord).value(), key(from), key(to)));
}
} // namespace

TEST_CASE("keys are read and written") {
  for (const char* text : {"A", "F#", "Ebm", "C#m", "Bb"})
    CHECK(ascii(key(text)) == text);
  CHECK(key("A minor") == key("Am"));
  CHECK(key("eb") == key("Eb"));
  for (const char* text : {"", "H", "Ax7", "Amm", "A dorian"})
    CHECK_FALSE(parse_key(text));
}

TEST_CASE("signatures follow the circle of fifths") {
  CHECK(signature(key("C")) == 0);
  CHECK(signature(key("A")) == 3);
  CHECK(signature(key("Eb")) == -3);
  CHECK(signature(key("F#m")) == 3);
  CHECK(signature(key("Ebm")) == -6);
  CHECK(usual_key(key("D#")) == key("Eb"));
  CHECK(usual_key(key("Gb")) == key("Gb"));
}

TEST_CASE("chords keep their degree in another key") {
  CHECK(moved("D", "A", "Eb") == "Ab");
  CHECK(moved("F#m7", "A", "Eb") == "Cm7");
  CHECK(moved("G/B", "C", "F#") == "C#/E#");
  CHECK(moved("Bb7", "C", "Ab") == "Gb7");
  CHECK(moved("Bb", "C", "Gb") == "Fb");
  for (int steps = 0; steps < 12; ++steps) {
    const auto to = transposed(key("C"), steps);
    CHECK(std::abs(signature(to)) <= 6);
    const auto there = transposed(parse_chord("F#m7b5/E").value(), key("C"), to);
    CHECK(pitch_class(there.root) == (6 + steps) % 12);
    CHECK(std::abs(there.root.accidental) <= 1);
  }
}

TEST_CASE("sounds are spelled as the key has them") {
  CHECK(ascii(spelled_in(key("Eb"), 8)) == "Ab");
  CHECK(ascii(spelled_in(key("A"), 8)) == "G#");
  CHECK(ascii(spelled_in(key("A"), 0)) == "C");
  CHECK(ascii(spelled_in(key("C"), 6)) == "F#");
  for (int tonic = 0; tonic < 12; ++tonic)
    for (int pitch = 0; pitch < 12; ++pitch)
      CHECK(pitch_class(spelled_in(transposed(key("C"), tonic), pitch)) == pitch);
}
