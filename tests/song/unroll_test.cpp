#include "song/parser.hpp"
#include "song/songs_at_hand.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cstdlib>

using namespace landfall;
using namespace landfall::song;

namespace {

theory::Key key(std::string_view name) {
  return *theory::parse_key(name);
}

std::string chords(const Form& form) {
  std::string text;
  for (const Bar& bar : form.bars)
    for (const ChordAt& chord : bar.chords)
      text += (text.empty() ? "" : " ") + (chord.chord ? theory::ascii(*chord.chord) : "N.C.");
  return text;
}

constexpr std::array<const char*, 13> majors{"C",  "Db", "D",  "Eb", "E",  "F", "F#",
                                             "Gb", "G",  "Ab", "A",  "Bb", "B"};

} // namespace

TEST_CASE("songs move to other keys, spelled as those require") {
  const auto song = *parse_song("key: A\n| A | F#m7 | Bm7/D | E7#9 | N.C. | F | C#m7b5 | G |");
  CHECK(chords(unroll(song, key("A"))) == "A F#m7 Bm7/D E7#9 N.C. F C#m7b5 G");
  CHECK(chords(unroll(song, key("C"))) == "C Am7 Dm7/F G7#9 N.C. Ab Em7b5 Bb");
  CHECK(chords(unroll(song, key("Eb"))) == "Eb Cm7 Fm7/Ab Bb7#9 N.C. Cb Gm7b5 Db");
  CHECK(chords(unroll(song, key("F#"))) == "F# D#m7 G#m7/B C#7#9 N.C. D A#m7b5 E");
}

TEST_CASE("a minor song stays minor, a major one major") {
  const auto minor = *parse_song("key: Am\n| Am | E7 |");
  CHECK(unroll(minor, key("C")).key == key("Cm"));
  CHECK(unroll(minor, key("Db")).key == key("C#m"));
  CHECK(chords(unroll(minor, key("Cm"))) == "Cm G7");
  const auto major = *parse_song("key: A\n| A | E7 |");
  CHECK(unroll(major, key("Cm")).key == key("C"));
}

TEST_CASE("keys within a song move along") {
  const auto song = *parse_song("key: C\n| I |\nkey: Eb\n| I |\nkey: Am\n| i |");
  const Form form = unroll(song, key("B"));
  CHECK(form.bars[0].key == key("B"));
  CHECK(form.bars[1].key == key("D"));
  CHECK(form.bars[2].key == key("G#m"));
  CHECK(chords(form) == "B D G#m");
}

TEST_CASE("every shipped song moves to every key by the same distance in all its parts") {
  for (const SongFile& file : shipped_songs()) {
    CAPTURE(file.name);
    const auto song = parse_song(file.text);
    REQUIRE(song);
    const Form home = unroll(*song);
    for (const std::string name : majors) {
      CAPTURE(name);
      const Form moved = unroll(*song, key(name));
      REQUIRE(moved.bars.size() == home.bars.size());
      const int distance = pitch_class(moved.key.tonic) - pitch_class(home.key.tonic);
      for (std::size_t i = 0; i < home.bars.size(); ++i) {
        const Bar& from = home.bars[i];
        const Bar& to = moved.bars[i];
        REQUIRE(to.chords.size() == from.chords.size());
        REQUIRE(std::abs(theory::signature(to.key)) <= 7);
        REQUIRE((pitch_class(to.key.tonic) - pitch_class(from.key.tonic) - distance) % 12 == 0);
        for (std::size_t j = 0; j < from.chords.size(); ++j) {
          const auto& a = from.chords[j].chord;
          const auto& b = to.chords[j].chord;
          REQUIRE(a.has_value() == b.has_value());
          if (!a)
            continue;
          REQUIRE(a->degrees == b->degrees);
          REQUIRE(std::abs(b->root.accidental) <= 1);
          REQUIRE((pitch_class(b->root) - pitch_class(a->root) - distance) % 12 == 0);
          if (a->bass)
            REQUIRE((pitch_class(*b->bass) - pitch_class(*a->bass) - distance) % 12 == 0);
        }
      }
      CHECK(moved.length == home.length);
    }
  }
}

TEST_CASE("bars are numbered, lie end to end, and name their sections") {
  const Form form = unroll(*parse_song("key: A\nform: V, B, V\nV:\n|: A | D :|\n"
                                       "B:\nmeter: 3/4\n| E |\n"));
  REQUIRE(form.bars.size() == 9);
  Ticks at{0};
  for (std::size_t i = 0; i < form.bars.size(); ++i) {
    CHECK(form.bars[i].number == static_cast<int>(i) + 1);
    CHECK(form.bars[i].start == at);
    at += bar_length(form.bars[i].meter);
    const bool start = i == 0 || i == 4 || i == 5;
    CHECK(form.bars[i].section_start == start);
    CHECK(form.bars[i].section == (i == 4 ? "B" : "V"));
  }
  CHECK(form.length == at);
  CHECK(form.bars[4].meter == Meter{3, 4});
  CHECK(form.bars[5].meter == Meter{4, 4});
}

TEST_CASE("what goes on is what was played before, not what is written before") {
  const Form form = unroll(*parse_song("key: A\n|: / | D |1. E :|2. / | / |"));
  CHECK(chords(form) == "N.C. D E E D D D");
}

TEST_CASE("a section keeps its tempo when the form comes back to it") {
  const Form form = unroll(*parse_song("key: A\ntempo: 100\nform: V, B, V\nV: | A | A |\n"
                                       "B:\ntempo: 50\n| E |\n"));
  REQUIRE(form.bars.size() == 5);
  CHECK_FALSE(form.bars[0].tempo);
  CHECK(form.bars[2].tempo == tempo_from_bpm(50));
  CHECK(form.bars[3].tempo == tempo_from_bpm(100));
  CHECK_FALSE(form.bars[4].tempo);
}
