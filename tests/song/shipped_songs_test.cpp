#include "song/parser.hpp"
#include "song/songs_at_hand.hpp"
#include "song/unroll.hpp"
#include "song/writer.hpp"
#include "theory/roman.hpp"

#include <doctest/doctest.h>

#include <map>
#include <set>

using namespace landfall;
using namespace landfall::song;

namespace {

/// A chorus as numerals, bar by bar, whatever key, metre, tempo and feel.
std::string roman_form(const Song& song) {
  std::string text;
  for (const Bar& bar : unroll(song).bars) {
    for (const ChordAt& chord : bar.chords)
      text += " " + (chord.chord ? theory::roman(*chord.chord, song.key) : "N.C.");
    text += " |";
  }
  return text;
}

} // namespace

TEST_CASE("every shipped song reads without a word to say about it") {
  for (const SongFile& file : shipped_songs()) {
    CAPTURE(file.name);
    const ReadSong read = read_song(file.text);
    for (const Diagnostic& diagnostic : read.diagnostics)
      FAIL_CHECK(diagnostic.at.line << ":" << diagnostic.at.column << " " << diagnostic.message);
    REQUIRE(read.song);
    CHECK_FALSE(read.song->title.empty());
    CHECK_FALSE(read.song->trains.empty());
    CHECK(file.text.find("tempo:") != std::string::npos);
    CHECK(file.text.find("feel:") != std::string::npos);
    CHECK(file.text.find("key:") != std::string::npos);
    CHECK(file.text.back() == '\n');
  }
}

TEST_CASE("shipped songs are named as files are: lower case, digits and hyphens") {
  for (const SongFile& file : shipped_songs())
    CHECK(file.name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-.") ==
          std::string::npos);
}

TEST_CASE("no two shipped songs share a form in numerals, nor a title") {
  std::map<std::string, std::string> forms;
  std::set<std::string> titles;
  for (const SongFile& file : shipped_songs()) {
    const auto song = parse_song(file.text);
    REQUIRE(song);
    const auto found = forms.emplace(roman_form(*song), file.name);
    CHECK_MESSAGE(found.second, file.name << " is " << found.first->second);
    CHECK(titles.insert(song->title).second);
  }
}

TEST_CASE("shipped songs name feels that the band has") {
  const std::set<std::string> feels{"straight-eighths", "half-time", "slow-twelve-eight",
                                    "shuffle",          "swing",     "train-beat",
                                    "two-beat",         "bossa",     "waltz",
                                    "sixteenth-funk",   "one-drop",  "six-eight-ballad",
                                    "gospel",           "five"};
  for (const SongFile& file : shipped_songs()) {
    const auto song = parse_song(file.text);
    REQUIRE(song);
    for (const Bar& bar : unroll(*song).bars)
      CHECK_MESSAGE(feels.contains(bar.feel), file.name << ": " << bar.feel);
  }
}

TEST_CASE("the first song a player meets is eight bars of triads in A") {
  for (const SongFile& file : shipped_songs()) {
    if (file.name != "slipway-at-six.song")
      continue;
    const Form form = unroll(*parse_song(file.text));
    std::string chords;
    for (const Bar& bar : form.bars)
      chords += theory::ascii(*bar.chords.front().chord);
    CHECK(chords == "AADDAEDA");
    CHECK(form.key == theory::Key{{theory::Letter::a, 0}, false});
    CHECK(form.tempo == tempo_from_bpm(84));
    CHECK(form.feel == "straight-eighths");
    return;
  }
  FAIL("it is missing");
}

TEST_CASE("every shipped song is written as text and read back unchanged") {
  for (const SongFile& file : shipped_songs()) {
    CAPTURE(file.name);
    const auto song = parse_song(file.text);
    REQUIRE(song);
    const std::string text = as_text(*song);
    const ReadSong again = read_song(text);
    CAPTURE(text);
    REQUIRE(again.song);
    CHECK(again.diagnostics.empty());
    CHECK(*again.song == *song);
    CHECK(as_text(*again.song) == text);
  }
}
