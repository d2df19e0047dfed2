#include "theory/chord.hpp"
#include "theory/scale.hpp"
#include "theory/words.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <string>
#include <vector>

using namespace landfall;
using namespace landfall::theory;

namespace {

struct Row {
  std::string name, notes, degrees;
};

std::vector<Row> rows_of(const std::string& file) {
  std::ifstream in(std::string(LANDFALL_SOURCE_DIR) + "/tests/oracle/" + file);
  REQUIRE(in);
  std::vector<Row> rows;
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    const auto first = line.find(','), second = line.find(',', first + 1);
    rows.push_back({line.substr(0, first), line.substr(first + 1, second - first - 1),
                    std::string(trimmed(line.substr(second + 1)))});
  }
  return rows;
}

template <typename List> std::string text_of(const List& list) {
  std::string text;
  for (const auto& item : list)
    text += (text.empty() ? "" : " ") + ascii(item);
  return text;
}

const std::vector<Note> all_roots{
    {Letter::c, 0},  {Letter::c, 1}, {Letter::d, -1}, {Letter::d, 0}, {Letter::d, 1},
    {Letter::e, -1}, {Letter::e, 0}, {Letter::f, 0},  {Letter::f, 1}, {Letter::g, -1},
    {Letter::g, 0},  {Letter::g, 1}, {Letter::a, -1}, {Letter::a, 0}, {Letter::a, 1},
    {Letter::b, -1}, {Letter::b, 0}};

} // namespace

TEST_CASE("every chord of the independent table has its notes and degrees") {
  const auto rows = rows_of("chords.csv");
  CHECK(rows.size() > 200);
  for (const auto& row : rows) {
    CAPTURE(row.name);
    const auto chord = parse_chord(row.name);
    REQUIRE(chord);
    CHECK(ascii(*chord) == row.name);
    CHECK(text_of(notes(*chord)) == row.notes);
    CHECK(text_of(chord->degrees) == row.degrees);
  }
}

TEST_CASE("every scale of the independent table has its notes and degrees") {
  const auto rows = rows_of("scales.csv");
  CHECK(rows.size() > 100);
  for (const auto& row : rows) {
    CAPTURE(row.name);
    const auto scale = parse_rooted_scale(row.name);
    REQUIRE(scale);
    CHECK(text_of(notes_at(scale->root, scale->scale->degrees)) == row.notes);
    CHECK(text_of(scale->scale->degrees) == row.degrees);
  }
}

TEST_CASE("the same symbols hold on every root: a letter for each number, and the right sound") {
  for (const auto& row : rows_of("chords.csv")) {
    if (row.name[0] != 'C')
      continue;
    for (const auto root : all_roots) {
      const auto name = ascii(root) + row.name.substr(1);
      CAPTURE(name);
      const auto chord = parse_chord(name);
      REQUIRE(chord);
      CHECK(ascii(*chord) == name);
      CHECK(text_of(chord->degrees) == row.degrees);
      for (const auto degree : chord->degrees) {
        const auto note = note_at(root, degree);
        CHECK(pitch_class(note) == (pitch_class(root) + half_steps(degree)) % 12);
        CHECK((static_cast<int>(note.letter) - static_cast<int>(root.letter) + 7) % 7 ==
              (degree.number - 1) % 7);
      }
    }
  }
}
