#include "song/key_guess.hpp"
#include "song/parser.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::song;

TEST_CASE("the key of a progression is where its chords are at home") {
  struct Line {
    std::string text;
    std::string key;
  };
  const Line lines[] = {
      {"A | D | E | A", "A"},
      {"A | A | D | D | A | E | D | A", "A"},
      {"A7 | D7 | A7 | A7 | D7 | D7 | A7 | A7 | E7 | D7 | A7 | E7", "A"},
      {"Dm7 | G7 | Cmaj7 | Cmaj7", "C"},
      {"Dm7b5 | G7 | Cm7 | Cm7", "Cm"},
      {"Am | F | C | G", "Am"},
      {"C | G | Am | F", "C"},
      {"Em7 | A7 | Dmaj7 | Bm7", "D"},
      {"Am | Dm | E7 | Am", "Am"},
      {"F#m | D | A | E", "F#m"},
      {"Ebmaj7 | Cm7 | Fm7 | Bb7", "Eb"},
      {"Gb | Cb | Db7 | Gb", "Gb"},
      {"D | C | G | D", "D"},
      {"C | F | G7 | C", "C"},
      {"F | G | Am | C", "C"},
      {"A | D", "A"},
      {"A# | D#", "Bb"},
      {"A | A | D | D", "A"},
      {"Am | Dm", "Am"},
      {"G | C | Am | F", "C"},
      {"G7 | C", "C"},
      {"A7 | D7", "A"},
      {"G7 | C7 | G7 | G7 | C7 | C7 | G7 | G7 | D7 | C7 | G7 | D7", "G"},
      {"A7 | D7 | A7 | E7", "A"},
      {"Am7 | Dm7 | Am7 | E7", "Am"},
      {"E", "E"},
      {"Bm", "Bm"},
  };
  for (const Line& line : lines) {
    CAPTURE(line.text);
    const auto song = parse_progression("|" + line.text + "|");
    REQUIRE(song);
    CHECK(theory::ascii(song->key) == line.key);
  }
}

TEST_CASE("a key that the text names is not guessed") {
  CHECK(parse_song("key: Em\n| C | F | G | C |")->key == *theory::parse_key("Em"));
  const auto later = parse_song("| C | F | G7 | C |\nkey: E\n| I | V |");
  REQUIRE(later);
  CHECK(later->key == *theory::parse_key("C"));
  const auto& bars = later->sections[0].passages[0].bars;
  CHECK(bars[3].context.key == *theory::parse_key("C"));
  CHECK(bars[4].context.key == *theory::parse_key("E"));
}
