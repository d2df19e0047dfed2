#include "theory/roman.hpp"

#include <doctest/doctest.h>

using namespace landfall::theory;

namespace {
Key key(const char* text) {
  return parse_key(text).value();
}
std::string read(const char* text, const char* in) {
  const auto chord = parse_numeral(text, key(in));
  return chord ? ascii(*chord) : "at " + std::to_string(chord.error().column);
}
} // namespace

TEST_CASE("numerals and numbers are chords in the key") {
  CHECK(read("ii7", "C") == "Dm7");
  CHECK(read("V7", "Eb") == "Bb7");
  CHECK(read("bVIImaj7", "A") == "Gmaj7");
  CHECK(read("viiø7", "G") == "F#m7b5");
  CHECK(read("viio7", "G") == "F#dim7");
  CHECK(read("#ivdim7", "C") == "F#dim7");
  CHECK(read("ii-9", "C") == "Dm9");
  CHECK(read("imaj7", "Am") == "AmMaj7");
  CHECK(read("4", "A") == "D");
  CHECK(read("57", "A") == "E7");
  CHECK(read("6-7", "C") == "Am7");
  CHECK(read("6–7", "C") == "Am7");
  CHECK(read("vi–7", "C") == "Am7");
  CHECK(read("6m", "C") == "Am");
  CHECK(read("b7", "D") == "C");
  CHECK(read("1/3", "C") == "C/E");
  CHECK(read("V7/ii", "C") == "A7");
  CHECK(read("V/V", "Bb") == "C");
  CHECK(read("I6/9", "C") == "C6/9");
  CHECK(read("i6/9/5", "Cm") == "Cm6/9/G");
  CHECK(read("viio7/V", "C") == "F#dim7");
}

TEST_CASE("what is no numeral says where") {
  CHECK(read("", "C") == "at 1");
  CHECK(read("8", "C") == "at 1");
  CHECK(read("IIx", "C") == "at 3");
  CHECK(read("iix", "C") == "at 3");
  CHECK(read("I/q", "C") == "at 3");
  CHECK(read("bb3", "C") == "at 1");
}

TEST_CASE("a chord's numeral reads back as the chord, in every key") {
  for (int tonic = 0; tonic < 12; ++tonic)
    for (const bool minor : {false, true})
      for (int root = 0; root < 12; ++root)
        for (const char* suffix : {"", "m", "7", "m7", "maj7", "m7b5", "dim", "dim7", "+", "mMaj7",
                                   "6/9", "m6", "sus4", "7sus4", "add9", "madd9", "5", "7alt"}) {
          const auto in = transposed(Key{{Letter::c, 0}, minor}, tonic);
          auto chord = parse_chord("C" + std::string(suffix)).value();
          chord.root = simplified(note_at(in.tonic, usual_degree(root)));
          const auto text = roman(chord, in);
          CAPTURE(text);
          const auto again = parse_numeral(text, in);
          REQUIRE(again);
          CHECK(again->suffix == chord.suffix);
          CHECK(pitch_class(again->root) == pitch_class(chord.root));
        }
  CHECK(roman(parse_chord("G/B").value(), key("C")) == "V/7");
  CHECK(roman(parse_chord("F#m7b5").value(), key("A")) == "vi7b5");
}
