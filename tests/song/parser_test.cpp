#include "song/parser.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::song;

namespace {

/// A chorus in one line: `A, D@1920, -, (A)` where () goes on from before and - is N.C.; bars are
/// divided by |.
std::string chorus(const Form& form) {
  std::string text;
  for (const Bar& bar : form.bars) {
    text += text.empty() ? "" : " | ";
    for (const ChordAt& chord : bar.chords) {
      const std::string name = chord.chord ? theory::ascii(*chord.chord) : "-";
      text += &chord == &bar.chords.front() ? "" : " ";
      text += chord.written ? name : "(" + name + ")";
      if (chord.at > Ticks{0})
        text += "@" + std::to_string(chord.at.count);
    }
    text += bar.space ? " space" : "";
  }
  return text;
}

std::string chorus(std::string_view text) {
  const auto song = parse_song(text);
  if (!song)
    return std::to_string(song.error().line) + ":" + std::to_string(song.error().column) + " " +
           song.error().reason;
  return chorus(unroll(*song));
}

struct Line {
  std::string text;
  std::string expected;
};

struct Place {
  std::string text;
  int line;
  int column;
  std::string part; ///< Of the message.
};

} // namespace

TEST_CASE("bars are laid out over their beats") {
  const Line lines[] = {
      {"key: A\n| A | D |", "A | D"},
      {"key: A\n| A D |", "A D@1920"},
      {"key: A\n| A D E A |", "A D@960 E@1920 A@2880"},
      {"key: A\n| A / / D |", "A D@2880"},
      {"key: A\n| A // D |", "A D@2880"},
      {"key: A\n| A / D / |", "A D@1920"},
      {"key: A\n|A///|D|", "A | D"},
      {"key: A\n|A/ D/|", "A D@1920"},
      {"key: A\n| A | / / D / |", "A | (A) D@1920"},
      {"key: A\n| A | / |", "A | (A)"},
      {"key: A\n| A | //// |", "A | (A)"},
      {"key: A\n| A | % | % |", "A | A | A"},
      {"key: A\n| A D | % |", "A D@1920 | A D@1920"},
      {"key: A\n| A / / (D E) |", "A D@2880 E@3360"},
      {"key: A\n| A / (/ D) / |", "A D@2400"},
      {"key: A\n| A / (/ / D) / |", "A D@2560"},
      {"key: A\n| (A D) (E7(b9) A) / / |", "A D@480 E7b9@960 A@1440"},
      {"key: A\n| N.C. | nc | A |", "- | - | A"},
      {"key: A\n| A | N.C. / A / |", "A | - A@1920"},
      {"key: A\n| A space | space | D |", "A space | (A) space | D"},
      {"key: Am\nmeter: 3/4\n| Am / E |", "Am E@1920"},
      {"key: Am\nmeter: 6/8\n| Am E |", "Am E@1440"},
      {"key: Am\nmeter: 6/8\n| Am / / / E / |", "Am E@1920"},
      {"key: Am\nmeter: 6/8\n| Am (/ E /) |", "Am E@1920"},
      {"key: Am\nmeter: 12/8\n| Am E |", "Am E@2880"},
      {"key: Am\nmeter: 7/8\n| Am / / / E / / |", "Am E@1920"},
      {"key: Am\nmeter: 2/2\n| Am E |", "Am E@1920"},
  };
  for (const Line& line : lines) {
    CAPTURE(line.text);
    CHECK(chorus(line.text) == line.expected);
  }
}

TEST_CASE("chords, numerals and numbers are told apart one by one") {
  const Line lines[] = {
      {"key: C\n| A | I | 1 | i |", "A | C | C | Cm"},
      {"key: C\n| D | V | 5 | v |", "D | G | G | Gm"},
      {"key: C\n| ii7 | V7 | Imaj7 |", "Dm7 | G7 | Cmaj7"},
      {"key: C\n| 2-7 | 57 | 1 |", "Dm7 | G7 | C"},
      {"key: C\n| b7 | bVII | Bb | B7 |", "Bb | Bb | Bb | B7"},
      {"key: C\n| #iv | ♭VI | #4 |", "F#m | Ab | F#"},
      {"key: Eb\n| 1 | 4 | 1/3 |", "Eb | Ab | Eb/G"},
      {"key: C\n| Fm7b5/Ab | C#o | Δ |", "2:20 'Δ' is no chord: expected a chord (Am7), a numeral "
                                         "(vi7), a number (6-7), N.C., / or %"},
      {"key: D\n| Am7 | D7(b9, #5) | G6/9 |", "Am7 | D7#5b9 | G6/9"},
  };
  for (const Line& line : lines) {
    CAPTURE(line.text);
    CHECK(chorus(line.text) == line.expected);
  }
}

TEST_CASE("repeats, endings and forms are played out") {
  const Line lines[] = {
      {"key: A\n|: A | D :|", "A | D | A | D"},
      {"key: A\n| A | D :|", "A | D | A | D"},
      {"key: A\n|: A :| x3 | D |", "A | A | A | D"},
      {"key: A\n|: A :| x3\n| D |", "A | A | A | D"},
      {"key: A\n|: A :|: D :| E |", "A | A | D | D | E"},
      {"key: A\n|: A :| |: D :|", "A | A | D | D"},
      {"key: A\n| A | |: D :|", "A | D | D"},
      {"key: A\n| A |: D :||", "A | D | D"},
      {"key: A\n|: A |1. D :|2. E | A |", "A | D | A | E | A"},
      {"key: A\n|: A | 1. D :| 2. E || B |", "A | D | A | E | B"},
      {"key: A\n|: A |1. D :|2. E || B | D :|", "A | D | A | E | B | D | B | D"},
      {"key: A\n|: A |1-2. D :|3. E |: B :|", "A | D | A | D | A | E | B | B"},
      {"key: A\n|: A |1,2. D :|3. E |", "A | D | A | D | A | E"},
      {"key: A\n| A |1. D :|2. E :|3. B |", "A | D | A | E | A | B"},
      {"key: A\n|: A :| D :|", "A | A | D | D"},
      {"key: A\nform: V, V, B, V\nV: | A |\nB: | D |", "A | A | D | A"},
      {"key: A\nform: verse x2 bridge verse\nVerse: | A |\nBridge: | D |", "A | A | D | A"},
      {"key: A\nform: Verse 2, Verse\nVerse: | A |\nVerse 2: | D |", "D | A"},
      {"key: A\nform: Verse Verse 2 Verse\nVerse: | A |\nVerse 2: | D |", "A | D | A"},
      {"key: A\nV:\n|: A |\n| D :|\nW:\n| E |", "A | D | A | D | E"},
      {"key: A\nPick-up:\n| E |\nV:\n| A |", "A"},
  };
  for (const Line& line : lines) {
    CAPTURE(line.text);
    CHECK(chorus(line.text) == line.expected);
  }
}

TEST_CASE("key, metre, tempo and feel hold until they change") {
  const auto song = parse_song("key: A\ntempo: 100\nfeel: swing\n"
                               "V: | I | I |\n"
                               "key: D\nmeter: 6/8\ntempo: 60\nfeel: Six eight Ballad\n"
                               "| I |\n"
                               "W: | 4 |\n");
  REQUIRE(song);
  const Form form = unroll(*song);
  REQUIRE(form.bars.size() == 4);
  CHECK(chorus(form) == "A | A | D | G");
  CHECK(form.bars[1].key == *theory::parse_key("A"));
  CHECK(form.bars[2].key == *theory::parse_key("D"));
  CHECK(form.bars[2].meter == Meter{6, 8});
  CHECK(form.bars[2].tempo == tempo_from_bpm(90));
  CHECK(form.bars[2].feel == "six-eight-ballad");
  CHECK(form.bars[3].feel == "six-eight-ballad");
  CHECK_FALSE(form.bars[3].tempo);
  CHECK(form.bars[0].tempo == tempo_from_bpm(100));
  CHECK(form.tempo == tempo_from_bpm(100));
  CHECK(form.feel == "swing");
  CHECK(form.length == Ticks{2 * 3840 + 2 * 2880});
}

TEST_CASE("what the head leaves out is filled in") {
  const auto plain = parse_song("| Dm7 | G7 | Cmaj7 |");
  REQUIRE(plain);
  CHECK(plain->key == *theory::parse_key("C"));
  CHECK(plain->meter == Meter{4, 4});
  CHECK(plain->tempo == tempo_from_bpm(120));
  CHECK(plain->feel == "straight-eighths");
  CHECK(parse_song("meter: 3/4\n| C |")->feel == "waltz");
  CHECK(parse_song("meter: 5/4\n| C |")->feel == "five");
  CHECK(parse_song("meter: 6/8\n| C |")->feel == "six-eight-ballad");
  CHECK(unroll(*parse_song("| C |\nmeter: 3/4\n| C |")).bars[1].feel == "straight-eighths");
  CHECK(parse_song("meter: 6/8\ntempo: 60\n| C |")->tempo == tempo_from_bpm(90));
  CHECK(parse_song("| I | IV |")->key == *theory::parse_key("C"));
  CHECK(parse_song("| i | bVI | V |")->key == *theory::parse_key("Cm"));
}

TEST_CASE("the song's own key, metre, tempo and feel are those of the form's first bar") {
  const auto song = parse_song("key: A\ntempo: 60\nPick-up: | E7 |\n"
                               "V:\nkey: D\nmeter: 6/8\nfeel: swing\n| A |\n");
  REQUIRE(song);
  CHECK(song->key == *theory::parse_key("D"));
  CHECK(song->meter == Meter{6, 8});
  CHECK(song->tempo == tempo_from_bpm(60));
  CHECK(song->feel == "swing");
  CHECK(song->pickup.front().context.key == *theory::parse_key("A"));
  CHECK(song->pickup.front().context.meter == Meter{4, 4});
  CHECK(parse_song("V:\nkey: D\n| A |")->key == *theory::parse_key("D"));
  CHECK(parse_song("Pick-up: | E |\nV:\nkey: D\n| A |")->pickup.front().context.key ==
        *theory::parse_key("D"));
}

TEST_CASE("comments, blank lines, tabs, line ends and a byte order mark don't matter") {
  CHECK(chorus("\xEF\xBB\xBF# hello\r\nkey: F#  # the key\r\n\r\n\t| F# |\t#4 | B | # that's it\r\n"
               "#| C |\r\n") == "F# | B# | B");
  CHECK(chorus("TITLE: x\nKey : A\n|A|") == "A");
  CHECK(chorus("key: A\n  Verse :  \n | A") == "A");
}

TEST_CASE("a quoted progression is read by the same rules") {
  const auto song = parse_progression("A | D | E | A");
  REQUIRE(song);
  CHECK(chorus(unroll(*song)) == "A | D | E | A");
  CHECK(song->key == *theory::parse_key("A"));
  CHECK(song->tempo == tempo_from_bpm(120));
  CHECK(song->meter == Meter{4, 4});
  CHECK(song->title == "A | D | E | A");
  CHECK(chorus(unroll(*parse_progression("|: A / D / | E :|"))) == "A D@1920 | E | A D@1920 | E");
  const auto wrong = parse_progression("A | H7 | E");
  REQUIRE_FALSE(wrong);
  CHECK(wrong.error().line == 1);
  CHECK(wrong.error().column == 5);
  CHECK_FALSE(parse_progression("|"));
  CHECK_FALSE(parse_progression(""));
}

TEST_CASE("a pick-up stands before the top") {
  const Form form = unroll(*parse_song("key: A\nPick-up:\n| E7 / |\nVerse:\n| A |"));
  REQUIRE(form.pickup.size() == 1);
  const Bar& bar = form.pickup.front();
  CHECK(bar.start == Ticks{-3840});
  REQUIRE(bar.chords.size() == 2);
  CHECK_FALSE(bar.chords[0].chord);
  CHECK(bar.chords[1].at == Ticks{1920});
  CHECK(theory::ascii(*bar.chords[1].chord) == "E7");
  CHECK(form.bars.size() == 1);
  CHECK(form.bars.front().start == Ticks{0});
  CHECK(form.bars.front().chords.front().fresh);
}

TEST_CASE("what is wrong is found at its line and column") {
  const Place places[] = {
      {"| A | Aqm | D |", 1, 8, ""},
      {"key: A\n| A | H | D |", 2, 7, "expected a chord"},
      {"key: A\n| A | a | D |", 2, 7, "capitals"},
      {"key: A\n| A | VIII |", 2, 0, ""},
      {"key: H\n| A |", 1, 6, "expected a key"},
      {"key: G#\n| A |", 1, 6, "expected Ab"},
      {"meter: 3\n| A |", 1, 9, "slash"},
      {"meter: 17/4\n| A |", 1, 8, "1 to 16"},
      {"meter: 3/5\n| A |", 1, 10, "2, 4, 8 or 16"},
      {"tempo: fast\n| A |", 1, 8, "beats a minute"},
      {"tempo: 5000\n| A |", 1, 8, "20 to 400"},
      {"feel: a/b\n| A |", 1, 8, "letters"},
      {"title:\n| A |", 1, 7, "expected a value"},
      {"title:# x\n| A |", 1, 7, "expected a value"},
      {"tempo: 90\ntempo: 91\n| A |", 2, 1, "twice"},
      {"| A |\ntitle: late", 2, 1, "above"},
      {"colour: blue\n| A |", 1, 1, "nothing is called 'colour'"},
      {"hello there\n| A |", 1, 1, "expected a line such as"},
      {"", 1, 1, "no bars"},
      {"title: x", 1, 1, "no bars"},
      {"V:\nW:\n| A |", 1, 1, "expected bars in section 'V'"},
      {"V: | A |\nv: | A |", 2, 1, "two sections"},
      {"form: V, X\nV: | A |", 1, 10, "no section is called 'x'"},
      {"form: V x\nV: | A |", 1, 9, "no section"},
      {"|: A | D |", 1, 1, "not closed"},
      {"| E |: A |\nV: | A |", 1, 5, "not closed"},
      {"| A :| :|", 1, 8, "nothing to repeat"},
      {"|: A |1. D | E |", 1, 7, "expected :|"},
      {"|: A |1. D |2. E |", 1, 13, "expected :|"},
      {"|: A |1. D :|3. E |", 1, 14, "expected ending 2."},
      {"|: A |1. D :|2. E :| A |", 1, 19, "expected ending 3."},
      {"|: A |2. D :|", 1, 7, "expected ending 1."},
      {"|: A |1. D :|", 1, 12, "expected ending 2."},
      {"|: A | D 1. :|", 1, 10, "behind a bar line"},
      {"| A | x3 |", 1, 7, "right after :|"},
      {"|: A :| x99", 1, 9, "x2 to x64"},
      {"| A : D |", 1, 5, "no bar line"},
      {"| A ||| D |", 1, 5, "no bar line"},
      {"| A /D |", 1, 5, "stands alone"},
      {"| % | A |", 1, 3, "none yet"},
      {"| A | % D |", 1, 7, "stands alone"},
      {"| (A D | E |", 1, 3, "expected )"},
      {"| A D) |", 1, 6, "unexpected )"},
      {"| ((A D) E) |", 1, 4, "expected ) before"},
      {"| () |", 1, 4, "between ( and )"},
      {"| (A A A A A A A) |", 1, 3, "divided into 7"},
      {"| A |\nPick-up: | E |", 2, 1, "in front of"},
      {"Pick-up: |: A :|\n| A |", 1, 1, "no repeats"},
      {"title: a\x01z\n| A |", 1, 9, "UTF-8"},
      {"title: a\xC2\x85z\n| A |", 1, 9, "UTF-8"},
      {"\xEF\xBB\xBF| H |", 1, 3, "expected a chord"},
      {"title: a\xFFz\n| A |", 1, 9, "UTF-8"},
      {"title: \xE2\x82\n| A |", 1, 8, "UTF-8"},
  };
  for (const Place& place : places) {
    CAPTURE(place.text);
    const auto song = parse_song(place.text);
    REQUIRE_FALSE(song);
    CAPTURE(song.error().reason);
    CHECK(song.error().line == place.line);
    if (place.column > 0)
      CHECK(song.error().column == place.column);
    CHECK(song.error().reason.find(place.part) != std::string::npos);
    CHECK(song.error().reason.find('\n') == std::string::npos);
  }
}

TEST_CASE("what is odd but can be played is a warning") {
  const Place places[] = {
      {"title: x\nkey: A\n| A / / / / D |", 3, 11, "6 beats in a bar of 4"},
      {"title: x\nkey: A\n| A D E A D |", 3, 11, "5 beats in a bar of 4"},
      {"title: x\nkey: A\n| A | A D E |", 3, 7, "3 chords in a bar of 4"},
      {"title: x\nkey: A\n| A | A / D |", 3, 7, "3 beats in a bar of 4"},
      {"title: x\nkey: A\n| A | | D |", 3, 7, "an empty bar"},
      {"title: x\nkey: A\n| / / D / |", 3, 3, "nothing sounds yet"},
      {"key: A\n| A |", 1, 1, "no title"},
      {"title: x\nkey: A\nform: V\nV: | A |\nW: | D |", 5, 1, "never played"},
  };
  for (const Place& place : places) {
    CAPTURE(place.text);
    const ReadSong read = read_song(place.text);
    REQUIRE(read.song);
    REQUIRE(read.diagnostics.size() == 1);
    const Diagnostic& diagnostic = read.diagnostics.front();
    CHECK(diagnostic.severity == Severity::warning);
    CHECK(diagnostic.at == Position{place.line, place.column});
    CAPTURE(diagnostic.message);
    CHECK(diagnostic.message.find(place.part) != std::string::npos);
  }
  CHECK(chorus("| A / / / / D |") == "A");
}

TEST_CASE("all errors are listed, in the order of the text") {
  const ReadSong read = read_song("key: A\n| A | H | x |\nfoo: bar\n|: A | D |\n");
  CHECK_FALSE(read.song);
  REQUIRE(read.diagnostics.size() == 4);
  CHECK(read.diagnostics[0].at == Position{2, 7});
  CHECK(read.diagnostics[1].at == Position{2, 11});
  CHECK(read.diagnostics[2].at == Position{3, 1});
  CHECK(read.diagnostics[3].at == Position{4, 1});
}

TEST_CASE("where too much is wrong, the last error says that reading stops") {
  std::string text = "| A |\n";
  for (int i = 0; i < 300; ++i)
    text += "| H |\n";
  const ReadSong read = read_song(text);
  REQUIRE(read.diagnostics.size() == 100);
  CHECK(read.diagnostics[98].message.find("no chord") != std::string::npos);
  CHECK(read.diagnostics[99].message.find("not read") != std::string::npos);
}
