#include "render/chord.hpp"
#include "render/fake_metrics.hpp"
#include "render/fonts.hpp"
#include "render/style.hpp"
#include "render/text.hpp"

#include <doctest/doctest.h>

using namespace landfall::render;

namespace {

const std::string fonts_folder = std::string(LANDFALL_SOURCE_DIR) + "/assets/fonts";

std::vector<Text> runs(Pen& pen) {
  std::vector<Text> out;
  const DrawList list = pen.take();
  for (const Command& command : list.commands)
    out.push_back(std::get<Text>(command));
  return out;
}

} // namespace

TEST_CASE("plain accidentals become signs, words stay words") {
  const std::pair<const char*, const char*> cases[] = {
      {"b7", "♭7"},
      {"bb7", "♭♭7"},
      {"#11", "♯11"},
      {"Eb", "E♭"},
      {"Eb major", "E♭ major"},
      {"Bbm7b5", "B♭m7♭5"},
      {"F##", "F♯♯"},
      {"C#m", "C♯m"},
      {"C#dim", "C♯dim"},
      {"Bbmaj7/D", "B♭maj7/D"},
      {"Ebsus4", "E♭sus4"},
      {"1 b3 4 b5 5 b7", "1 ♭3 4 ♭5 5 ♭7"},
      {"About", "About"},
      {"Ebb tide", "E♭♭ tide"},
      {"Absent", "Absent"},
      {"grab", "grab"},
      {"Cab", "Cab"},
      {"bar 5", "bar 5"},
      {"", ""},
  };
  for (const auto& each : cases) {
    INFO(each.first);
    CHECK(with_signs(each.first) == each.second);
  }
}

TEST_CASE("signs change the font and belong to the same block") {
  const FakeMetrics metrics;
  Pen pen({800, 450}, metrics);
  const int width = pen.write({Face::regular, 20, {}}, {100, 50}, "E♭ minor");
  const auto text = runs(pen);
  REQUIRE(text.size() == 3);
  CHECK(text[0].text == "E");
  CHECK(text[1].face == Face::music);
  CHECK(text[1].text == "♭");
  CHECK(text[2].text == " minor");
  CHECK(text[0].block == text[2].block);
  CHECK(text[2].at.x + text[2].extent.width == 100 + width);
}

TEST_CASE("alignment") {
  const FakeMetrics metrics;
  Pen pen({800, 450}, metrics);
  const Setting setting{Face::bold, 10, {}};
  pen.write(setting, {100, 50}, "abcd", Align::middle);
  pen.write(setting, {100, 50}, "abcd", Align::right);
  const auto text = runs(pen);
  CHECK(text[0].at.x == 88);
  CHECK(text[1].at.x == 76);
  CHECK(text[0].block != text[1].block);
}

TEST_CASE("shortening keeps what fits, cuts between characters and never exceeds the room") {
  const FakeMetrics metrics;
  Pen pen({800, 450}, metrics);
  const Setting setting{Face::regular, 10, {}};
  CHECK(pen.shortened(setting, "abcdef", 36) == "abcdef");
  CHECK(pen.shortened(setting, "abcdef", 35) == "abcd…");
  CHECK(pen.shortened(setting, "ab cdef", 24) == "ab…");
  CHECK(pen.shortened(setting, "éééééé", 18) == "éé…");
  CHECK(pen.shortened(setting, "abc", 3) == "");
  for (int room = 0; room < 200; ++room)
    CHECK(pen.width(setting, pen.shortened(setting, "E♭ · C shape · frets 3–6", room)) <= room);
  CHECK(pen.shortened(setting, std::string(10'000'000, 'x'), 100).size() < 30);
}

TEST_CASE("wrapping breaks at spaces and loses no word") {
  const FakeMetrics metrics;
  const Pen pen({800, 450}, metrics);
  const Setting setting{Face::regular, 10, {}};
  const auto lines = wrapped(pen, setting, "warm up and stop when it hurts", 60);
  CHECK(lines == std::vector<std::string>{"warm up", "and stop", "when it", "hurts"});
  CHECK(wrapped(pen, setting, "", 60).empty());
  CHECK(wrapped(pen, setting, "unbreakable-word", 20) ==
        std::vector<std::string>{"unbreakable-word"});
}

TEST_CASE("a chord symbol: root bold, accidental raised, quality smaller, bass after a slash") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  Pen pen({1920, 1080}, **fonts);
  const ChordText chord{"B", -1, "m7♭5", "F", 1, false};
  const int width = write_chord(pen, chord, {100, false}, {50, 200}, {});
  CHECK(width == chord_width(pen, chord, {100, false}));
  const auto text = runs(pen);
  CHECK(text.at(0).text == "B");
  CHECK(text.at(0).face == Face::bold);
  CHECK(text.at(1).text == "♭");
  CHECK(text.at(1).at.y < 200);
  CHECK(text.at(2).text == "m7");
  CHECK(text.at(2).size == 50);
  CHECK(text.at(3).text == "♭");
  CHECK(text.at(5).text == "/");
  CHECK(text.at(6).text == "F");
  CHECK(text.at(7).text == "♯");
  for (std::size_t i = 1; i < text.size(); ++i) {
    CHECK(text[i].at.x >= text[i - 1].at.x + text[i - 1].extent.width);
    CHECK(text[i].block == text[0].block);
  }
}

TEST_CASE("numerals take their accidental in front; N.C. stands alone") {
  const FakeMetrics metrics;
  Pen pen({800, 450}, metrics);
  write_chord(pen, {"VII", -1, "7", "", 0, false}, {40, false}, {0, 100}, {});
  write_chord(pen, {"", 0, "", "", 0, true}, {40, false}, {0, 200}, {});
  const auto text = runs(pen);
  CHECK(text.at(0).text == "♭");
  CHECK(text.at(1).text == "VII");
  CHECK(text.at(3).text == "N.C.");
}

TEST_CASE("a chord is shrunk, then stacked, to fit its room") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  Pen pen({1920, 1080}, **fonts);
  const ChordText chord{"F", 1, "m7♭5", "C", 1, false};
  const int whole = chord_width(pen, chord, {60, false});
  CHECK(fit_chord(pen, chord, 60, whole).root == 60);
  CHECK_FALSE(fit_chord(pen, chord, 60, whole).stacked);
  CHECK(fit_chord(pen, chord, 60, whole * 9 / 10).root < 60);
  CHECK(fit_chord(pen, chord, 60, 82).stacked);
  for (int room = 24; room < whole; room += 7) {
    const ChordSize size = fit_chord(pen, chord, 60, room);
    CHECK(chord_width(pen, chord, size) <= room);
    CHECK((size.cut || size.root >= (size.stacked ? type::least_stacked : type::least_in_line)));
  }
  CHECK(fit_chord(pen, chord, 60, 24).cut);
  CHECK_FALSE(fit_chord(pen, chord, 60, whole / 2).cut);
}

TEST_CASE("a chord whose quality could not be read keeps its root, and says that more is meant") {
  const FakeMetrics metrics;
  Pen pen({800, 450}, metrics);
  write_chord(pen, {"F", 1, "m7♭5", "C", 1, false},
              fit_chord(pen, {"F", 1, "m7♭5", "C", 1, false}, 25, 30), {10, 50}, {});
  std::string said;
  for (const Command& command : pen.take().commands) {
    said += std::get<Text>(command).text;
    CHECK(std::get<Text>(command).size >= type::least_label);
  }
  CHECK(said == "F♯…");
}

TEST_CASE("an unreadable font folder gives one line that names it") {
  const auto fonts = Fonts::open("/nowhere/at/all");
  REQUIRE_FALSE(fonts);
  CHECK(fonts.error().find("/nowhere/at/all") != std::string::npos);
  CHECK(fonts.error().find('\n') == std::string::npos);
}

TEST_CASE("text that is not UTF-8, or has control characters, is measured without harm") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  Pen pen({800, 450}, **fonts);
  for (const char* text : {"\xff\xfe", "\xe2\x99", "a\x01z", "\xf0\x9f\x8e\xb8", "♭\xe2"})
    CHECK(pen.write({Face::regular, 20, {}}, {0, 50}, text) >= 0);
}
