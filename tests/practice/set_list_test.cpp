#include "practice/set_list.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::practice;

namespace {

std::string error_of(std::string_view text) {
  const auto read = read_set_list(text);
  if (read)
    return "read";
  return std::to_string(read.error().line) + ":" + std::to_string(read.error().column) + " " +
         read.error().reason;
}

} // namespace

TEST_CASE("a set list keeps each song with its key, tempo, feel and place") {
  const auto list = read_set_list("title: Friday\n\nsong: slipway-at-six\nkey: Bb\ntempo: 92.5\n"
                                  "feel: shuffle\nplace: C shape fret 14\n\nsong: A | D | E\n");
  REQUIRE(list);
  CHECK(list->title == "Friday");
  REQUIRE(list->songs.size() == 2);
  CHECK(ascii(*list->songs[0].key) == "Bb");
  CHECK(*list->songs[0].beats_per_minute == 92.5);
  CHECK(list->songs[0].place == neck::PlaceRequest{'C', 14});
  CHECK(list->songs[1] == SongPlan{"A | D | E", {}, {}, "", {}});
  CHECK(read_set_list(as_text(*list)).value() == *list);
}

TEST_CASE("an empty list is a list, and reads back") {
  CHECK(read_set_list("").value() == SetList{});
  CHECK(as_text(SetList{}).empty());
}

TEST_CASE("what is wrong in a set list is said at its place") {
  CHECK(error_of("key: A\nsong: x") == "1:1 expected title or the first song");
  CHECK(error_of("song: x\ntempo: 12") == "2:8 expected beats a minute from 20 to 400");
  CHECK(error_of("song: x\nkey: H").find("2:6 ") == 0);
  CHECK(error_of("song: x\nplace: high") == "2:8 expected `E shape`, `fret 5` or both");
  CHECK(error_of("song: x\nmood: blue").find("2:1 unknown name 'mood'") == 0);
  CHECK(error_of("song:") == "1:6 expected a value after the colon");
}
