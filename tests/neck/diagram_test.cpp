#include "neck/support.hpp"
#include "neck/text.hpp"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>

using namespace landfall::neck;
using landfall::theory::Over;

namespace {

Instrument shipped(const std::string& name) {
  std::ifstream file(LANDFALL_SOURCE_DIR "/songs/instruments/" + name + ".instrument");
  std::stringstream text;
  text << file.rdbuf();
  return parse_instrument(text.str()).value();
}

Instrument with_capo(int fret) {
  auto guitar = standard_guitar();
  guitar.capo = fret;
  return guitar;
}

Instrument left_handed() {
  auto guitar = standard_guitar();
  guitar.left_handed = true;
  return guitar;
}

struct Case {
  const char* title;
  Asked asked;
  const char* chord;
  bool all = false; ///< With groups and grips.
};

std::vector<Case> cases() {
  const auto guitar = standard_guitar();
  return {
      {"C major, C shape", {guitar, "C", {.shape = 'C'}}, "C"},
      {"C major, A shape", {guitar, "C", {.shape = 'A'}}, "C"},
      {"C major, G shape", {guitar, "C", {.shape = 'G'}}, "C"},
      {"C major, E shape", {guitar, "C", {.shape = 'E'}}, "C"},
      {"C major, D shape", {guitar, "C", {.shape = 'D'}}, "C"},
      {"A minor pentatonic, C shape", {guitar, "Am", {.shape = 'C'}, "minor pentatonic"}, "Am"},
      {"A minor pentatonic, A shape", {guitar, "Am", {.shape = 'A'}, "minor pentatonic"}, "Am"},
      {"A minor pentatonic, G shape", {guitar, "Am", {.shape = 'G'}, "minor pentatonic"}, "Am"},
      {"A minor pentatonic, E shape", {guitar, "Am", {.shape = 'E'}, "minor pentatonic"}, "Am"},
      {"A minor pentatonic, D shape", {guitar, "Am", {.shape = 'D'}, "minor pentatonic"}, "Am"},
      {"IV in E flat, C shape", {guitar, "Eb", {.shape = 'C'}}, "Ab"},
      {"V7 in E flat, C shape", {guitar, "Eb", {.shape = 'C'}}, "Bb7"},
      {"A blues over D7", {guitar, "A", {.shape = 'E'}, "blues"}, "D7"},
      {"composite over A7", {guitar, "A", {.shape = 'E'}, "composite", Over::chord}, "A7"},
      {"E blues, open position", {guitar, "E", {}, "blues"}, "A7"},
      {"G major, open position", {guitar, "G", {.shape = 'G'}, "major"}, "Em7"},
      {"half-diminished ii", {guitar, "Cm", {.shape = 'A'}}, "Dm7b5"},
      {"diminished seventh", {guitar, "C", {.shape = 'A'}}, "F#dim7"},
      {"dorian", {guitar, "Dm", {.shape = 'A'}, "dorian"}, "G7"},
      {"high frets", {guitar, "E", {.shape = 'E', .position = 12}, "minor pentatonic"}, "E7#9"},
      {"by fret alone", {guitar, "A", {.position = 7}, "major pentatonic"}, "E"},
      {"left-handed", {left_handed(), "A", {}, "major pentatonic", Over::chord}, "D"},
      {"capo at 2", {with_capo(2), "D", {.shape = 'C'}, "major"}, "A"},
      {"drop D", {shipped("drop-d"), "D", {.position = 0}, "major"}, "D"},
      {"bass", {shipped("bass"), "A", {}, "major pentatonic"}, "D"},
      {"ukulele", {shipped("ukulele"), "C", {.position = 0}, "major"}, "G7"},
      {"mandolin", {shipped("mandolin"), "G", {.position = 0}, "major"}, "D7"},
      {"banjo", {shipped("banjo"), "G", {.position = 0}, "major pentatonic"}, "C"},
      {"seven strings", {shipped("seven-string"), "Em", {.shape = 'E'}, "natural minor"}, "B7"},
      {"keyboard", {shipped("keyboard"), "C", {}, "major"}, "F", true},
      {"with groups and grips", {guitar, "A", {}, "arpeggio"}, "D", true},
  };
}

std::string drawn() {
  std::string text;
  for (const auto& [title, asked, chord, all] : cases()) {
    const auto setting = asked.setting();
    const auto view = landfall::neck::view(setting, chord_of(chord), {all, all, 10});
    text += std::string("== ") + title + "\n" + diagram(setting, chord_of(chord), view) + "\n";
  }
  return text;
}

/// The approved drawings. They were checked by hand against how the instruments are played; a
/// change is approved by writing the file anew (LANDFALL_APPROVE=1) and reading the difference.
std::string approved(const std::string& now) {
  const std::string path = LANDFALL_SOURCE_DIR "/tests/neck/diagrams.txt";
  if (std::getenv("LANDFALL_APPROVE") != nullptr)
    std::ofstream(path) << now;
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

} // namespace

TEST_CASE("diagrams are those approved by hand") {
  const auto now = drawn();
  std::istringstream drawn_lines(now), approved_lines(approved(now));
  std::string is, should, title;
  while (std::getline(approved_lines, should)) {
    if (should.starts_with("=="))
      title = should;
    CAPTURE(title);
    REQUIRE(std::getline(drawn_lines, is));
    CHECK(is == should);
  }
  CHECK_FALSE(std::getline(drawn_lines, is));
}

TEST_CASE("no line of a diagram is wider than a terminal") {
  std::istringstream lines(drawn());
  for (std::string line; std::getline(lines, line);) {
    std::size_t columns = 0;
    for (const char c : line)
      columns += (static_cast<unsigned char>(c) & 0xC0) != 0x80 ? 1 : 0;
    CAPTURE(line);
    CHECK(columns <= 80);
  }
}

TEST_CASE("sentences say every note in words") {
  const Asked asked{.key = "Eb", .place = {.shape = 'C'}};
  const auto setting = asked.setting();
  const auto chord = chord_of("Bb7");
  const auto view = landfall::neck::view(setting, chord, {.groups = false, .grips = false});
  CHECK(sentences(setting, chord, view) ==
        "Bb7 in Eb: frets 3 to 6, Eb as a C shape.\n"
        "Bb7 here: a G shape, nut at 3.\n"
        "Notes: arpeggio over the chord.\n"
        "Land on:\n"
        "Root, B flat: string 6 fret 6 in the grip, string 3 fret 3 in the grip, string 1 fret 6.\n"
        "Third, D: string 5 fret 5 in the grip, string 2 fret 3 in the grip.\n"
        "Fifth, F: string 4 fret 3 in the grip, string 2 fret 6.\n"
        "Flat seventh, A flat: string 6 fret 4, string 4 fret 6, string 1 fret 4 in the grip.\n");
}

TEST_CASE("a drawing is well-formed and shows each note once") {
  for (const auto& [title, asked, chord, all] : cases()) {
    const auto setting = asked.setting();
    const auto view = landfall::neck::view(setting, chord_of(chord), {});
    const auto text = svg(setting, chord_of(chord), view);
    const std::string name = title;
    CAPTURE(name);
    CHECK(text.starts_with("<svg "));
    CHECK(text.ends_with("</svg>\n"));
    std::size_t circles = 0, rings = 0, labels = 0;
    for (auto at = text.find("<circle"); at != std::string::npos; at = text.find("<circle", at + 1))
      ++circles;
    for (const auto& note : view.notes) {
      rings += note.in_grip && note.role != Role::set ? 1 : 0;
      labels += note.role != Role::set ? 1 : 0;
    }
    CHECK(circles == view.notes.size() + rings);
    std::size_t bold = 0;
    for (auto at = text.find("middle\" fill"); at != std::string::npos;
         at = text.find("middle\" fill", at + 1))
      ++bold;
    CHECK(bold >= labels);
    CHECK(std::count(text.begin(), text.end(), '<') == std::count(text.begin(), text.end(), '>'));
  }
}

TEST_CASE("a name with signs of its own cannot break a drawing") {
  Asked asked;
  auto setting = asked.setting();
  setting.set.name = "<b> & \"x\"";
  const auto text = svg(setting, chord_of("A"), landfall::neck::view(setting, chord_of("A"), {}));
  CHECK(text.find("&lt;b&gt; &amp;") != std::string::npos);
  CHECK(text.find("<b>") == std::string::npos);
}
