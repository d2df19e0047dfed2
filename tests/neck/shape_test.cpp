#include "neck/support.hpp"

using namespace landfall::neck;

namespace {

std::string row_text(const FretRow& row) {
  std::string text;
  for (int string = 0; string < 6; ++string)
    text += (string > 0 ? " " : "") + (row[string] == muted ? "x" : std::to_string(row[string]));
  return text;
}

std::string grip(const char* chord, char shape, int nut) {
  const Fretboard guitar(standard_guitar());
  return row_text(shape_grip(guitar, {shape, nut}, ChordTones(chord_of(chord))));
}

std::string open_grip(const char* chord) {
  const char shape = chord[0];
  return grip(chord, shape, 0);
}

} // namespace

TEST_CASE("the open shapes are the chords that beginners learn") {
  CHECK(open_grip("C") == "x 3 2 0 1 0");
  CHECK(open_grip("A") == "x 0 2 2 2 0");
  CHECK(open_grip("G") == "3 2 0 0 0 3");
  CHECK(open_grip("E") == "0 2 2 1 0 0");
  CHECK(open_grip("D") == "x x 0 2 3 2");
}

TEST_CASE("minor moves the third; what falls behind the nut is muted") {
  CHECK(open_grip("Am") == "x 0 2 2 1 0");
  CHECK(open_grip("Em") == "0 2 2 0 0 0");
  CHECK(open_grip("Dm") == "x x 0 2 3 1");
  CHECK(open_grip("Cm") == "x 3 1 0 1 x");
  CHECK(open_grip("Gm") == "3 1 0 0 x 3");
}

TEST_CASE("moved up, a shape is a barre") {
  CHECK(grip("F", 'E', 1) == "1 3 3 2 1 1");
  CHECK(grip("Ab", 'E', 4) == "4 6 6 5 4 4");
  CHECK(grip("Bm", 'A', 2) == "x 2 4 4 3 2");
  CHECK(grip("Eb", 'C', 3) == "x 6 5 3 4 3");
  CHECK(grip("F", 'D', 3) == "x x 3 5 6 5");
}

TEST_CASE("sevenths take the place of a doubled root or a fifth") {
  const std::vector<std::pair<const char*, const char*>> grips{
      {"E7", "0 2 0 1 0 0"},     {"Emaj7", "0 2 1 1 0 0"},  {"Em7", "0 2 0 0 0 0"},
      {"EmMaj7", "0 2 1 0 0 0"}, {"A7", "x 0 2 0 2 0"},     {"Amaj7", "x 0 2 1 2 0"},
      {"Am7", "x 0 2 0 1 0"},    {"D7", "x x 0 2 1 2"},     {"Dmaj7", "x x 0 2 2 2"},
      {"Dm7", "x x 0 2 1 1"},    {"Dm7b5", "x x 0 1 1 1"},  {"Ddim7", "x x 0 1 0 1"},
      {"C7", "x 3 2 3 1 0"},     {"Cmaj7", "x 3 2 0 0 0"},  {"Cm7", "x 3 1 3 1 x"},
      {"G7", "3 2 0 0 0 1"},     {"Gmaj7", "3 2 0 0 0 2"},  {"Edim7", "0 1 2 0 2 0"},
      {"Adim7", "x 0 1 2 1 2"},  {"A6", "x 0 2 2 2 2"},     {"E6", "0 2 2 1 2 0"},
      {"Em6", "0 2 2 0 2 0"},    {"Asus4", "x 0 2 2 3 0"},  {"Dsus4", "x x 0 2 3 3"},
      {"E7sus4", "0 2 0 2 0 0"}, {"A7sus4", "x 0 2 0 3 0"}, {"C9", "x 3 2 3 3 0"}};
  for (const auto& [chord, frets] : grips) {
    const std::string name = chord;
    CAPTURE(name);
    CHECK(open_grip(chord) == frets);
  }
}

TEST_CASE("a shape's grip is the same at every fret, for every chord") {
  for (const auto& form : shape_forms())
    for (const char* suffix :
         {"", "m", "7", "maj7", "m7", "m7b5", "dim7", "6", "9", "13", "sus4", "7#9", "+", "5"}) {
      const Fretboard guitar(standard_guitar());
      const auto at = [&](int nut) {
        auto chord = chord_of(std::string("C") + suffix);
        ChordTones tones(chord);
        tones.root = (form.root + nut) % 12;
        return shape_grip(guitar, {form.name, nut}, tones);
      };
      for (int nut = 2; nut < 12; ++nut)
        for (int string = 0; string < 6; ++string) {
          CAPTURE(form.name);
          CAPTURE(std::string(suffix));
          CHECK((at(1)[string] == muted) == (at(nut)[string] == muted));
          if (at(1)[string] != muted)
            CHECK(at(nut)[string] - at(1)[string] == nut - 1);
        }
    }
}

TEST_CASE("every shape has its movable seventh grips") {
  const Fretboard guitar(standard_guitar());
  for (const auto& form : shape_forms()) {
    const auto grips =
        seventh_grips(guitar, {form.name, 3}, landfall::theory::plain_note(form.root + 3, true));
    CAPTURE(form.name);
    CHECK(grips.size() >= 5);
    for (const auto& grip : grips)
      CHECK(grip.fingers <= 4);
  }
}
