#include "song/parser.hpp"
#include "song/songs_at_hand.hpp"
#include "song/writer.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::song;

namespace {

/// `bad-chord-3-7.song` is wrong at line 3, column 7.
Position place_in(std::string name) {
  name.resize(name.rfind('.'));
  const auto column = name.rfind('-');
  const auto line = name.rfind('-', column - 1);
  return {std::stoi(name.substr(line + 1)), std::stoi(name.substr(column + 1))};
}

} // namespace

TEST_CASE("the good songs of the corpus read, and read back as written") {
  int seen = 0;
  for (const SongFile& file : songs_in("tests/song/corpus")) {
    if (!file.name.starts_with("good-"))
      continue;
    CAPTURE(file.name);
    const auto song = parse_song(file.text);
    REQUIRE_MESSAGE(song, (song ? "" : song.error().reason));
    CHECK(*parse_song(as_text(*song)) == *song);
    ++seen;
  }
  CHECK(seen >= 12);
}

TEST_CASE("the documented example reads without a word to say about it") {
  for (const SongFile& file : songs_in("tests/song/corpus"))
    if (file.name == "good-documented.song") {
      const ReadSong read = read_song(file.text);
      REQUIRE(read.song);
      CHECK(read.diagnostics.empty());
      CHECK(unrolled_bars(*read.song) == 3 * (4 * 3 + 2 * (2 + 2)) + 8);
      CHECK(read.song->pickup.size() == 1);
      return;
    }
  FAIL("it is missing");
}

TEST_CASE("the bad songs of the corpus are wrong where their names say") {
  int seen = 0;
  for (const SongFile& file : songs_in("tests/song/corpus")) {
    if (!file.name.starts_with("bad-"))
      continue;
    CAPTURE(file.name);
    const auto song = parse_song(file.text);
    REQUIRE_FALSE(song);
    CAPTURE(song.error().reason);
    CHECK(Position{song.error().line, song.error().column} == place_in(file.name));
    ++seen;
  }
  CHECK(seen >= 20);
}
