#include "song/parser.hpp"
#include "song/unroll.hpp"
#include "trade/phrase.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::trade;

namespace {

song::Form form_of(std::string_view progression) {
  return song::unroll(*song::parse_progression(progression));
}

} // namespace

TEST_CASE("a phrase has the chords of its bars, from its first bar line, and wraps at the top") {
  const auto form = form_of("| A | A | D / E / | A7 |");
  const auto phrase = blank_phrase(form, 3, 4);
  REQUIRE(phrase.chords.size() == 4);
  CHECK(phrase.length == quarter * 16);
  CHECK(ascii(*phrase.chords[0].chord) == "D");
  CHECK(ascii(*phrase.chords[1].chord) == "E");
  CHECK(phrase.chords[1].at == quarter * 2);
  CHECK(ascii(*phrase.chords[2].chord) == "A7");
  CHECK(phrase.chords[3].at == quarter * 8);
}

TEST_CASE("a pick-up is heard against the first chord, a note at a change against the new one") {
  const auto phrase = blank_phrase(form_of("| A | D |"), 1, 2);
  CHECK(chord_index(phrase, quarter * -1) == 0);
  CHECK(chord_index(phrase, quarter * 4 - Ticks{1}) == 0);
  CHECK(chord_index(phrase, quarter * 4) == 1);
  CHECK(chord_index(phrase, quarter * 40) == 1);
}

TEST_CASE("degrees are the chord's own, else the usual ones, and the key's in N.C.") {
  const auto chord = *theory::parse_chord("C7#9");
  const theory::Key key = *theory::parse_key("G");
  CHECK(ascii(degree_over(chord, key, {63})) == "#2");
  CHECK(ascii(degree_over(chord, key, {66})) == "b5");
  CHECK(ascii(degree_over(std::nullopt, key, {69})) == "2");
}
