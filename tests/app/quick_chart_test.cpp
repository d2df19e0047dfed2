#include "app/quick_chart.hpp"
#include "song/writer.hpp"
#include "theory/recognise.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

namespace {

std::vector<theory::Chord> readings(std::initializer_list<int> midi) {
  std::vector<theory::MidiNote> notes;
  for (const int number : midi)
    notes.push_back(theory::MidiNote{number});
  return theory::recognised_chords(notes, {});
}

QuickChart chart_of(const char* bars) {
  QuickChart chart;
  chart.field(QuickChart::bars).insert(bars);
  return chart;
}

} // namespace

TEST_CASE("a field types, moves and erases by whole characters") {
  TextField field;
  field.insert("B♭");
  field.insert("7");
  field.left();
  field.erase_before();
  CHECK(field.text() == "B7");
  CHECK(field.caret() == 1);
  field.insert("a\tb\nc\x01");
  CHECK(field.text() == "Ba b c7");
  field.erase_word();
  CHECK(field.text() == "Ba b 7");
  field.erase_after();
  CHECK(field.text() == "Ba b ");
  field.line_start();
  field.word_right();
  CHECK(field.caret() == 3);
  field.word_left();
  CHECK(field.caret() == 0);
  field.erase_before();
  CHECK(field.text() == "Ba b ");
}

TEST_CASE("the caret keeps its column from line to line") {
  TextField field("A | D |\nE\nA | A7 |", true);
  CHECK(field.line() == 2);
  CHECK(field.up());
  CHECK(field.caret() == 9);
  CHECK(field.up());
  CHECK(field.caret() == 1);
  CHECK_FALSE(field.up());
  field.line_end();
  CHECK(field.down());
  CHECK(field.caret() == 9);
  CHECK(field.line_before_caret() == "E");
}

TEST_CASE("every step is undone and done again, words at once") {
  TextField field;
  for (const char* letter : {"A", "m", "7", " ", "D", "7"})
    field.insert(letter);
  CHECK(field.undo());
  CHECK(field.text() == "Am7 ");
  CHECK(field.undo());
  CHECK(field.undo());
  CHECK(field.text().empty());
  CHECK_FALSE(field.undo());
  while (field.redo()) {
  }
  CHECK(field.text() == "Am7 D7");
  field.undo();
  field.insert("G");
  CHECK_FALSE(field.redo());
}

TEST_CASE("a chart that is typed is a song, with its key found") {
  auto chart = chart_of("Dm7 | G7 | Cmaj7 | %");
  const auto read = chart.read();
  REQUIRE(read.song);
  CHECK(ascii(read.song->key) == "C");
  CHECK(song::unrolled_bars(*read.song) == 4);
  chart.field(QuickChart::key).insert("G");
  chart.field(QuickChart::title).insert("Low tide");
  CHECK(ascii(chart.read().song->key) == "G");
  CHECK(chart.read().song->title == "Low tide");
  CHECK(chart.page().count == "4 bars");
}

TEST_CASE("what cannot be read is said with its place, and nothing is lost") {
  auto chart = chart_of("A | D |\nE | H |");
  chart.field(QuickChart::tempo).insert("90");
  const auto read = chart.read();
  CHECK_FALSE(read.song);
  CHECK(read.problem.find("line 2, column 5: ") == 0);
  chart.field(QuickChart::tempo).insert("x");
  CHECK(chart.read().problem.find("tempo: ") == 0);
  const auto again = QuickChart::from_draft(chart.draft_text());
  CHECK(again.draft_text() == chart.draft_text());
  CHECK(again.field(QuickChart::bars).text() == "A | D |\nE | H |");
  CHECK(again.field(QuickChart::tempo).text() == "90x");
}

TEST_CASE("any text is a draft") {
  CHECK(QuickChart::from_draft("nonsense\nA | D").field(QuickChart::bars).text() ==
        "nonsense\nA | D");
  CHECK(QuickChart::from_draft("").read().problem.empty());
}

TEST_CASE("chords that are played are written bar by bar, four to a line") {
  QuickChart chart;
  for (int bar = 0; bar < 5; ++bar)
    chart.add_chord(readings({57, 61, 64, 67}));
  CHECK(chart.field(QuickChart::bars).text() == "| A7 | A7 | A7 | A7 |\n| A7 |");
  REQUIRE(chart.read().song);
  CHECK(song::unrolled_bars(*chart.read().song) == 5);
  CHECK(chart.focused().undo());
  CHECK(chart.field(QuickChart::bars).text() == "| A7 | A7 | A7 | A7 |");
}

TEST_CASE("with half bars two chords share one") {
  QuickChart chart;
  chart.toggle_halves();
  chart.add_chord(readings({57, 61, 64}));
  chart.add_chord(readings({62, 66, 69}));
  chart.add_chord(readings({64, 68, 71}));
  CHECK(chart.field(QuickChart::bars).text() == "| A D | E |");
}

TEST_CASE("another reading takes the chord's place, until something else is typed") {
  QuickChart chart;
  chart.add_chord(readings({57, 60, 64, 67}));
  CHECK(chart.field(QuickChart::bars).text() == "| Am7 |");
  CHECK(chart.next_reading());
  CHECK(chart.field(QuickChart::bars).text() == "| C6/A |");
  chart.field(QuickChart::bars).insert(" D");
  CHECK_FALSE(chart.next_reading());
  CHECK(chart.field(QuickChart::bars).text() == "| C6/A | D");
}
