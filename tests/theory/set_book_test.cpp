#include "theory/set_book.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::theory;

TEST_CASE("a player defines sets by degrees and chooses what fits which chord") {
  const auto book = parse_set_book("# mine\n\nset two-note Sigh: 1 b3 3 5\nover minor: dorian\n"
                                   "over dominant: two-note sigh\nover augmented: arpeggio\n");
  REQUIRE(book);
  REQUIRE(book->own.size() == 1);
  CHECK(book->find("Two-Note Sigh")->degrees.size() == 4);
  CHECK(book->fitting.minor.name == "dorian");
  CHECK(book->fitting.dominant.name == "two-note sigh");
  CHECK(book->fitting.major == default_fitting().major);
  CHECK(book->find("blues")->name == "blues");
  const auto set = resolved(parse_note_set("fitting").value(), Over::chord, {},
                            parse_chord("Dm7").value(), book->fitting);
  CHECK(set.degrees.size() == 7);
  const auto arpeggio = resolved(parse_note_set("fitting").value(), Over::chord, {},
                                 parse_chord("C+").value(), book->fitting);
  CHECK(arpeggio.degrees == parse_chord("C+")->degrees);
}

TEST_CASE("a wrong line is named by its number and column") {
  const auto fails = [](const char* text, int line, int column) {
    const auto book = parse_set_book(text);
    REQUIRE_FALSE(book);
    CHECK(book.error().line == line);
    CHECK(book.error().column == column);
  };
  fails("set mine 1 2 3", 1, 1);
  fails("\nset mine: 1 2 q", 2, 11);
  fails("over sideways: blues", 1, 1);
  fails("over minor: fitting", 1, 1);
  fails("set : 1 2", 1, 1);
  fails("scale mine: 1 2 3", 1, 1);
  fails("set mine: arpeggio", 1, 1);
}
