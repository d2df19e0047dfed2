#include "song/parser.hpp"
#include "song/writer.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::song;

TEST_CASE("a song is written as a musician would write it") {
  const auto song =
      parse_song("key: A\ntitle: Lamps along the Quay\ntempo: 96 bpm\nfeel: Shuffle\n"
                 "form: verse x2, bridge\ntrains: thirds\n"
                 "Pickup: | E7 / |\n"
                 "Verse:\n|: A | D / E | A | A | A :| x3 | D | D7 |1. A :|2. E | A |\n"
                 "Bridge:\nkey: D\nmeter: 6/8\n| 4 | b7 | 1/3 (/ 4 /) | N.C. space |");
  REQUIRE(song);
  CHECK(as_text(*song) == "title: Lamps along the Quay\n"
                          "key: A\n"
                          "meter: 4/4\n"
                          "tempo: 96\n"
                          "feel: shuffle\n"
                          "trains: thirds\n"
                          "form: Verse, Verse, Bridge\n"
                          "\n"
                          "Pick-up:\n"
                          "| / / E7 / |\n"
                          "\n"
                          "Verse:\n"
                          "|: A | D / E / | A | A |\n"
                          "| A :| x3\n"
                          "|: D | D7 |1. A :|\n"
                          "|2. E | A ||\n"
                          "\n"
                          "Bridge:\n"
                          "key: D\n"
                          "meter: 6/8\n"
                          "| G | C | D/F# / / / G / | N.C. space |\n");
}

TEST_CASE("a form line is written only where the sections are not played as they stand") {
  CHECK(as_text(*parse_song("key: A\nV: | A |\nW: | D |")) ==
        "key: A\nmeter: 4/4\ntempo: 120\nfeel: straight-eighths\n\nV:\n| A |\n\nW:\n| D |\n");
  CHECK(as_text(*parse_song("key: A\nform: W\nV: | A |\nW: | D |")).find("form: W\n") !=
        std::string::npos);
}

TEST_CASE("what is written reads back equal, and is written the same again") {
  const std::string texts[] = {
      "| A |",
      "title: x # y\n| A | / D / / | // E/ |",
      "title: #1 in the harbour\n| A |",
      "meter: 12/8\n| Ebm | (Ebm / / Bb7) / / (/ / / / / D) |",
      "| (A / / / D) / / (/ / / / / / / / / / / E) |",
      "title: a\tb  c\n| A |",
      "key: Ebm\ntempo: 77.7\nmeter: 12/8\n| Ebm | Abm / / Bb7 | (Ebm / Bb7) / (/ Bb7 /) / |",
      "key: C\n| (C D) (E F G) (/ A B C) (/ / / / C) |",
      "key: C\nmeter: 7/8\n| C / / D / / / |\nmeter: 4/4\n| C |\ntempo: 61\n|: D :|",
      "key: C\nform: B, A x3, B\nA: |: C |1-2. D | E :|3. F :|4. G | A || B |: C :|\nB: | D |",
      "key: C\n|: C |1. D :|\nkey: E\n|2. I | I ||\nfeel: swing\n|: V :| x5",
      "key: C\n|:1. D :|2. E |",
      "Pick-up:\nkey: D\n| N.C. A7 |\nV:\nkey: G\n| I |",
      "tempo: 60\nPick-up:\nmeter: 6/8\n| A |\nV:\nmeter: 3/4\n| I |",
      "V:\nkey: E\ntempo: 70\nmeter: 9/8\n| I |",
      "key: F\n| Fm7b5/Cb | Bb7#9#5 | C13 | Dsus4 | E7sus4 | N.C. | G6/9 | Aaug | Bdim7 |",
      "key: C\n| C space | space | / space / / / | N.C. space |",
  };
  for (const std::string& text : texts) {
    CAPTURE(text);
    const auto song = parse_song(text);
    REQUIRE_MESSAGE(song, (song ? "" : song.error().reason));
    const std::string written = as_text(*song);
    CAPTURE(written);
    const auto again = parse_song(written);
    REQUIRE_MESSAGE(again, (again ? "" : again.error().reason));
    CHECK(*again == *song);
    CHECK(as_text(*again) == written);
  }
}

TEST_CASE("every tempo that a file can hold survives") {
  for (std::int64_t micros = 150'000; micros <= 3'000'000; micros += 997) {
    Song song = *parse_song("key: A\nmeter: 6/8\n| A |");
    song.tempo = song.sections[0].passages[0].bars[0].context.tempo = {micros};
    REQUIRE(parse_song(as_text(song))->tempo == Tempo{micros});
  }
}

TEST_CASE("songs made by the program may hold anything in their lines of text") {
  Song song = *parse_song("key: A\n| A |");
  song.title = " a\nkey: B # not a comment\t# ";
  song.trains = std::string(400, 'x');
  const auto again = parse_song(as_text(song));
  REQUIRE(again);
  CHECK(again->title == "a key: B   not a comment");
  CHECK(again->trains.size() == 300);
  CHECK(again->key == song.key);
}

TEST_CASE("chords between all divisions move to the nearest twelfth of a beat") {
  Song song = *parse_song("key: A\n| A |");
  song.sections[0].passages[0].bars[0].chords.push_back({Ticks{967}, *theory::parse_chord("D")});
  song.sections[0].passages[0].bars[0].chords.push_back({Ticks{2005}, *theory::parse_chord("E")});
  const auto again = parse_song(as_text(song));
  REQUIRE(again);
  const auto& chords = again->sections[0].passages[0].bars[0].chords;
  REQUIRE(chords.size() == 3);
  CHECK(chords[1].at == Ticks{960});
  CHECK(chords[2].at == Ticks{2000});
}
