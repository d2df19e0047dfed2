#include "song/parser.hpp"
#include "song/unroll.hpp"
#include "trade/fit.hpp"
#include "trade/phrase_file.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::trade;

namespace {

song::Form form_of(std::string_view progression, const char* key) {
  return song::unroll(*song::parse_progression(progression), *theory::parse_key(key));
}

/// In the key of A, one bar, root, third and fifth over each chord.
Phrase phrase_of(std::string_view chords, const char* line = "1/4 3/4 5/2") {
  const auto kept = read_phrase("name: x\nmetre: 4/4\nkey: A\nover: " + std::string(chords) +
                                "\nline: | " + line + " |\n");
  REQUIRE(kept);
  return kept->phrase;
}

theory::Chord chord(const char* symbol) {
  return *theory::parse_chord(symbol);
}

} // namespace

TEST_CASE("a chord carries what has its third, its fifth and, if any, its seventh") {
  CHECK(can_carry(chord("A7"), chord("A")));
  CHECK(can_carry(chord("A9"), chord("A7")));
  CHECK(can_carry(chord("Am7"), chord("Am9")));
  CHECK(!can_carry(chord("A"), chord("A7")));
  CHECK(!can_carry(chord("Amaj7"), chord("A7")));
  CHECK(!can_carry(chord("Am"), chord("A")));
  CHECK(!can_carry(chord("Am7b5"), chord("Am7")));
  CHECK(!can_carry(chord("A7sus4"), chord("A7")));
}

TEST_CASE("a phrase fits where its changes are, and keeps its notes there in its own key") {
  const auto phrase = phrase_of("| A7 | D7 |", "1/4 3/4 5/2 | 1/1");
  const auto fit = fit_in(form_of("| E7 | A7 | D7 | A7 |", "A"), phrase);
  REQUIRE(fit);
  CHECK(fit->bar == 2);
  REQUIRE(fit->phrase.notes.size() == phrase.notes.size());
  for (std::size_t i = 0; i < phrase.notes.size(); ++i) {
    CHECK(fit->phrase.notes[i].midi == phrase.notes[i].midi);
    CHECK(fit->phrase.notes[i].start == phrase.notes[i].start);
    CHECK(fit->phrase.notes[i].degree == phrase.notes[i].degree);
  }
  CHECK(!fit_in(form_of("| A7 / D7 / | A7 | B7 | A7 / D7 / |", "A"), phrase));
  CHECK(!fit_in(form_of("| A | D | A | E", "A"), phrase));
  CHECK(!fit_in(form_of("| A7 |", "A"), phrase));
}

TEST_CASE("in another key every note moves by one interval, by a tritone at most") {
  const auto phrase = phrase_of("| A7 |");
  for (const char* key : {"Bb", "B", "C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab"}) {
    CAPTURE(key);
    const auto fit = fit_in(form_of(std::string(key) + "7 | " + key + "7", key), phrase);
    REQUIRE(fit);
    const int shift = fit->phrase.notes[0].midi - phrase.notes[0].midi;
    CHECK(std::abs(shift) <= 6);
    for (std::size_t i = 0; i < phrase.notes.size(); ++i) {
      CHECK(fit->phrase.notes[i].midi - phrase.notes[i].midi == shift);
      CHECK(!fit->phrase.notes[i].string);
      CHECK(degree_over(fit->phrase.chords[0].chord, fit->phrase.key, fit->phrase.notes[i].midi) ==
            phrase.notes[i].degree);
    }
  }
}

TEST_CASE("the place in the form's key comes before an earlier one in another") {
  const auto phrase = phrase_of("| A7 |");
  CHECK(fit_in(form_of("| D7 | E7 | A7 |", "A"), phrase)->bar == 3);
  CHECK(fit_in(form_of("| D7 | E7 | Am |", "A"), phrase)->bar == 1);
}

TEST_CASE("bars of another metre carry nothing") {
  const auto waltz = song::parse_song("meter: 3/4\nkey: A\n\n| A7 | A7 | A7 |\n");
  REQUIRE(waltz);
  CHECK(!fit_in(song::unroll(*waltz), phrase_of("| A7 |")));
}
