#include "song/changes.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <sstream>

using namespace landfall;
using namespace landfall::song;

namespace {

/// `1:1 A, 3:2.5 D`; a change after the same tones has a ~ in front.
std::string changes_of(std::string_view text) {
  std::ostringstream out;
  for (const Change& change : changes(unroll(*parse_song(text))))
    out << (out.tellp() > 0 ? ", " : "") << (change.fresh ? "" : "~") << change.bar << ":"
        << change.beat << " " << theory::ascii(change.chord);
  return out.str();
}

} // namespace

TEST_CASE("changes") {
  struct Line {
    std::string text;
    std::string expected;
  };
  const Line lines[] = {
      {"key: A\n| A | A | D | D | A | E | D | A |", "~1:1 A, 3:1 D, 5:1 A, 6:1 E, 7:1 D, 8:1 A"},
      {"key: A\n| A | D / E / |", "1:1 A, 2:1 D, 2:3 E"},
      {"key: A\n| A / (/ D) / | E |", "1:1 A, 1:3.5 D, 2:1 E"},
      // every fourth bar of a long chord, counted from where it began
      {"key: A\n| A :| x9", "~1:1 A, ~5:1 A, ~9:1 A"},
      {"key: A\n| D | A | A | A | A | A |", "1:1 D, 2:1 A, ~6:1 A"},
      {"key: A\n| D / A / | / | / | / | / | D |", "~1:1 D, 1:3 A, ~5:1 A, 6:1 D"},
      // other basses and other names of the same tones are no change
      {"key: A\n| A | A/C# | Amaj | D |", "1:1 A, 4:1 D"},
      {"key: A\n| A | A7 | A |", "~1:1 A, 2:1 A7, 3:1 A"},
      // none in N.C., but one when the chord comes back
      {"key: A\n| A | N.C. | A | N.C. / A / |", "~1:1 A, 3:1 A, 4:3 A"},
      {"key: A\n| N.C. | A |", "2:1 A"},
      {"key: A\n| A | N.C. :| x2", "1:1 A, 3:1 A"},
      {"key: A\n| N.C. | N.C. | N.C. | N.C. | N.C. | N.C. | N.C. |", ""},
      {"key: Am\nmeter: 6/8\n| Am E | Am |", "~1:1 Am, 1:2 E, 2:1 Am"},
      {"key: Am\nmeter: 6/8\n| Am (/ / E) | Am |", "~1:1 Am, 1:2.66667 E, 2:1 Am"},
  };
  for (const Line& line : lines) {
    CAPTURE(line.text);
    CHECK(changes_of(line.text) == line.expected);
  }
}

TEST_CASE("changes rise within the form and name the chord in force") {
  const Form form =
      unroll(*parse_song("key: C\n| C / F (G C) | Am |\nmeter: 7/8\n| Dm | G / / C / / / |"));
  Ticks last{-1};
  for (const Change& change : changes(form)) {
    CHECK(change.tick > last);
    CHECK(change.tick < form.length);
    last = change.tick;
    CHECK(*chord_at(form, change.tick).chord == change.chord);
    CHECK(bar_at(form, change.tick).number == change.bar);
  }
}
