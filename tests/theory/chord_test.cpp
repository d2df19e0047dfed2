#include "theory/chord.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace landfall::theory;

TEST_CASE("other spellings of a symbol mean the same chord") {
  struct Case {
    std::string written;
    const char* meant;
  };
  const Case cases[] = {{"C-7", "Cm7"},          {"Cmin7", "Cm7"},
                        {"Cmi7", "Cm7"},         {"CMI7", "Cm7"},
                        {"Cminor", "Cm"},        {"C-", "Cm"},
                        {"Cmaj", "C"},           {"CM", "C"},
                        {"CM7", "Cmaj7"},        {"Cma7", "Cmaj7"},
                        {"CΔ", "Cmaj7"},         {"CΔ7", "Cmaj7"},
                        {"Cj7", "Cmaj7"},        {"C△9", "Cmaj9"},
                        {"CMaj7", "Cmaj7"},      {"Co", "Cdim"},
                        {"C°", "Cdim"},          {"C°7", "Cdim7"},
                        {"Co7", "Cdim7"},        {"Cø", "Cm7b5"},
                        {"Cø7", "Cm7b5"},        {"C-7b5", "Cm7b5"},
                        {"Cm7(b5)", "Cm7b5"},    {"Cmin7♭5", "Cm7b5"},
                        {"Cm7-5", "Cm7b5"},      {"Caug", "C+"},
                        {"C(#5)", "C(#5)"},      {"C+7", "C7#5"},
                        {"C7+", "C7#5"},         {"Caug7", "C7#5"},
                        {"C7aug", "C7#5"},       {"C7+5", "C7#5"},
                        {"C7+9", "C7#9"},        {"C7-9", "C7b9"},
                        {"C7(b9)", "C7b9"},      {"C7(#9)", "C7#9"},
                        {"C7(♯11)", "C7#11"},    {"C69", "C6/9"},
                        {"C6(9)", "C6/9"},       {"C6add9", "C6add9"},
                        {"CmM7", "CmMaj7"},      {"C-Δ7", "CmMaj7"},
                        {"C-Δ", "CmMaj7"},       {"Cm(maj7)", "CmMaj7"},
                        {"CminMaj7", "CmMaj7"},  {"Csus", "Csus4"},
                        {"C7sus", "C7sus4"},     {"C9sus", "C9sus4"},
                        {"Cadd2", "Cadd9"},      {"C2", "Cadd9"},
                        {"C(add9)", "Cadd9"},    {"Cm(add9)", "Cmadd9"},
                        {"C+maj7", "Cmaj7#5"},   {"Cmaj7(#11)", "Cmaj7#11"},
                        {"Cmaj7#4", "Cmaj7#11"}, {"C13(b9)", "C13b9"},
                        {"C7alt", "C7alt"},      {"Calt", "C7alt"},
                        {"Cdom7", "C7"},         {"C♯m7", "C#m7"},
                        {"E♭7", "Eb7"},          {"C−7", "Cm7"},
                        {"C–7", "Cm7"},          {"C–7b5", "Cm7b5"},
                        {"C7b9#9", "C7b9#9"},    {"C7(b9,#11)", "C7b9#11"},
                        {"Cmaj7/E", "Cmaj7/E"},  {"C/Bb", "C/Bb"},
                        {"C6/9/E", "C6/9/E"},    {"Cdim(maj7)", "CdimMaj7"},
                        {"C7no3", "C7no3"},      {"C(omit3)", "Cno3"},
                        {"Cmadd9", "Cmadd9"}};
  for (const auto& c : cases) {
    CAPTURE(c.written);
    const auto chord = parse_chord(c.written);
    REQUIRE(chord);
    CHECK(ascii(*chord) == c.meant);
    const auto again = parse_chord(ascii(*chord));
    REQUIRE(again);
    CHECK(*again == *chord);
  }
}

TEST_CASE("the same letters can mean two chords, and the usual one is read") {
  CHECK(parse_chord("Cb5")->root == Note{Letter::c, -1}); // a fifth chord on Cb
  CHECK(parse_chord("C+9")->degrees == parse_chord("C9#5")->degrees);
  CHECK(parse_chord("C-9")->degrees == parse_chord("Cm9")->degrees);
  CHECK(parse_chord("C7alt")->degrees ==
        std::vector<Degree>{{1, 0}, {3, 0}, {7, -1}, {9, -1}, {9, 1}, {13, -1}});
}

TEST_CASE("an unreadable symbol points at the character") {
  struct Case {
    std::string text;
    int column;
  };
  const Case cases[] = {{"", 1},        {"H7", 1},    {"c7", 1},    {"C7q", 3},   {"Cmaj7%", 6},
                        {"Ebm7x", 5},   {"C/H", 3},   {"C/", 3},    {"C7(b9", 6}, {"C77", 3},
                        {"Cøq", 4},     {"C7 ", 0},   {"C/E/G", 3}, {"C)", 2},    {"C7b11", 3},
                        {"F#m7b5é", 7}, {"C\xff", 2}, {"Csus3", 5}};
  for (const auto& c : cases) {
    CAPTURE(c.text);
    const auto chord = parse_chord(c.text);
    if (c.column == 0)
      continue;
    REQUIRE_FALSE(chord);
    CHECK(chord.error().column == c.column);
    CHECK(chord.error().reason.size() > 10);
  }
}

TEST_CASE("no bytes can do harm, and what is read is written and read again as the same") {
  std::mt19937 random(7);
  const std::string alphabet = "CDEFGAB#b♭mMajdimsug+-o0123456789/()Δø°, nolt";
  int read = 0;
  for (int i = 0; i < 200'000; ++i) {
    std::string text(1, "CDEFGAB"[random() % 7]);
    for (auto length = random() % 7; length > 0; --length)
      text += alphabet[random() % alphabet.size()];
    if (const auto chord = parse_chord(text)) {
      ++read;
      const auto again = parse_chord(ascii(*chord));
      CAPTURE(text);
      REQUIRE(again);
      CHECK(ascii(*again) == ascii(*chord));
      CHECK(again->degrees == chord->degrees);
    }
  }
  CHECK(read > 1000);
}

TEST_CASE("quality and guide tones") {
  const auto guides = [](const char* text) {
    std::string names;
    for (const auto degree : guide_tones(parse_chord(text).value()))
      names += ascii(degree) + " ";
    return names;
  };
  CHECK(guides("C") == "3 ");
  CHECK(guides("Cm7") == "b3 b7 ");
  CHECK(guides("C7sus4") == "4 b7 ");
  CHECK(guides("C6") == "3 6 ");
  CHECK(guides("Cm7b5") == "b3 b5 b7 ");
  CHECK(guides("Cdim7") == "b3 b5 bb7 ");
  CHECK(guides("C+") == "3 #5 ");
  CHECK(guides("C5") == "");
  CHECK(quality(*parse_chord("C7")) == Quality::dominant);
  CHECK(quality(*parse_chord("C9sus4")) == Quality::suspended);
  CHECK(quality(*parse_chord("Cm7b5")) == Quality::half_diminished);
  CHECK(quality(*parse_chord("Cdim")) == Quality::diminished);
  CHECK(quality(*parse_chord("C+")) == Quality::augmented);
  CHECK(quality(*parse_chord("C5")) == Quality::major);
  CHECK(is_minor(*parse_chord("Cm6")));
}

TEST_CASE("the same tones from the same root are no change") {
  const auto same = [](const char* a, const char* b) {
    return same_tones(parse_chord(a).value(), parse_chord(b).value());
  };
  CHECK(same("C#7", "Db7"));
  CHECK(same("C", "C/G"));
  CHECK_FALSE(same("C", "C7"));
  CHECK_FALSE(same("C6", "Am7"));
}
