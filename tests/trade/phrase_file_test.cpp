#include "trade/call.hpp"
#include "trade/call_answer.hpp"
#include "trade/path.hpp"
#include "trade/phrase_file.hpp"
#include "trade/phrase_value.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

using namespace landfall;
using namespace landfall::trade;

namespace {

namespace fs = std::filesystem;

constexpr const char* head = "name: x\nkey: A\nover: | A7 | D7 |\n";

KeptPhrase read(const std::string& text) {
  const auto kept = read_phrase(text);
  INFO(text);
  REQUIRE(kept);
  return *kept;
}

std::vector<PhraseNote> notes(const std::string& line) {
  return read(head + std::string("line: ") + line).phrase.notes;
}

TextError error_of(const std::string& text) {
  const auto kept = read_phrase(text);
  INFO(text);
  REQUIRE(!kept);
  return kept.error();
}

int column_of_line(const std::string& line) {
  const auto error = error_of(head + std::string("line: ") + line);
  CHECK(error.line == 4);
  return error.column;
}

std::vector<KeptPhrase> shipped() {
  std::vector<KeptPhrase> all;
  for (const auto& entry : fs::directory_iterator(LANDFALL_SOURCE_DIR "/songs/phrases")) {
    if (entry.path().extension() != ".phrase")
      continue;
    std::ifstream file(entry.path(), std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    const auto kept = read_phrase(text);
    INFO(entry.path().string(), " ", kept ? "" : kept.error().reason);
    REQUIRE(kept);
    all.push_back(*kept);
  }
  return all;
}

/// A chord tone, of the key's scale, or of the blues scale where the phrase is a blues.
bool belongs(const KeptPhrase& kept, const PhraseNote& note) {
  const auto& phrase = kept.phrase;
  const int sound = pitch_class(note.midi);
  const auto& chord = phrase.chords[static_cast<std::size_t>(note.chord)].chord;
  if (chord && theory::degree_in(*chord, sound))
    return true;
  const int above = (sound - theory::pitch_class(phrase.key.tonic) + 12) % 12;
  const auto& scale = theory::degrees(phrase.key);
  if (std::any_of(scale.begin(), scale.end(),
                  [&](theory::Degree degree) { return theory::pitch_class(degree) == above; }))
    return true;
  const bool blues = std::count(kept.tags.begin(), kept.tags.end(), "blues") > 0;
  return blues && (above == 3 || above == 5 || above == 6 || above == 10);
}

} // namespace

TEST_CASE("degrees lie over the chord that they are heard against, nearest to the note before") {
  const auto line = notes("1/4 b3/8 3/8 5/2 | 3/4 1'/4 1,/4 r/4");
  REQUIRE(line.size() == 7);
  const int sounds[] = {57, 60, 61, 64, 66, 74, 62};
  for (std::size_t i = 0; i < line.size(); ++i)
    CHECK(line[i].midi.number == sounds[i]);
  CHECK(line[4].start == quarter * 4);
  CHECK(line[4].chord == 1);
  CHECK(line[4].degree == theory::Degree{3, 0});
  CHECK(notes("3/8& r/8").front().midi.number == 66);
}

TEST_CASE("values have dots, triplets, ties and ticks") {
  const std::pair<const char*, std::int64_t> values[] = {{"1", 3840}, {"4.", 1440},  {"4..", 1680},
                                                         {"8t", 320}, {"2~8", 2400}, {"k433", 433}};
  for (const auto& [text, ticks] : values) {
    std::string_view rest = text;
    CHECK(take_value(rest).value().count == ticks);
    CHECK(rest.empty());
    CHECK(value_text(Ticks{ticks}) == text);
  }
  for (std::string_view bad : {"", "3", "64", "4~", "k", "x", "k99999999"}) {
    const auto before = bad;
    CHECK(!take_value(bad));
    CHECK(bad == before);
  }
}

TEST_CASE("marks tell role, bend, place, loudness and how long a note rings") {
  const auto line = notes("D5/4^200@2:15=110! C5/8>& A4/k0_2% E4/8");
  REQUIRE(line.size() == 4);
  CHECK(line[0].bend_cents == 200.0);
  CHECK(line[0].string == 2);
  CHECK(line[0].fret == 15);
  CHECK(line[0].velocity == 110);
  CHECK(line[0].role == PhraseRole::landing);
  CHECK(line[1].role == PhraseRole::approach);
  CHECK(line[1].chord == 1);
  // Of one onset, by pitch.
  CHECK(line[2].midi.number == 64);
  CHECK(line[3].role == PhraseRole::enclosure);
  CHECK(line[3].start == line[2].start);
  CHECK(line[3].length == quarter * 2);
}

TEST_CASE("an error in a phrase file points at its line and column") {
  CHECK(error_of("").reason == "expected a line `name: ...`");
  CHECK(error_of("name: x\nover: | A7 | Q |\n").column == 14);
  CHECK(error_of("name: x\nover: A7\n").line == 2);
  CHECK(error_of("name: x\nname: y\n").line == 2);
  CHECK(error_of("name: x\nline: 1/4\n").line == 2);
  CHECK(error_of("name: x\ntags: a,,b\n").column == 9);
  CHECK(error_of(head + std::string("line: 1/4\nkey: C\n")).line == 5);
  CHECK(error_of(head + std::string("speed: 3\n")).column == 1);
  CHECK(column_of_line("1/4 x/4") == 11);
  CHECK(column_of_line("1/4 | 1/4") == 11);
  CHECK(column_of_line("1/4 1/3") == 13);
  CHECK(column_of_line("1/4 1/4?") == 14);
  CHECK(column_of_line("1/1 1/1 1/4") == 15);
  CHECK(column_of_line("1/4 r/4!") == 14);
}

TEST_CASE("shipped phrases are many, named and tagged, and read again as they were written") {
  const auto all = shipped();
  CHECK(all.size() >= 12);
  for (const auto& kept : all) {
    INFO(kept.name);
    CHECK(!kept.tags.empty());
    CHECK(!kept.about.empty());
    const auto text = phrase_text(kept);
    INFO(text);
    CHECK(read(text) == kept);
  }
}

TEST_CASE("shipped phrases stay in their key and land on chord tones") {
  for (const auto& kept : shipped()) {
    INFO(kept.name);
    const auto& phrase = kept.phrase;
    for (const auto& note : phrase.notes) {
      INFO(note.start.count, " ", ascii(note.midi));
      const bool leads = note.role == PhraseRole::approach || note.role == PhraseRole::enclosure;
      CHECK((leads || belongs(kept, note)));
      CHECK(note.midi.number >= 40);
      CHECK(note.midi.number <= 84);
    }
    CHECK(std::any_of(phrase.notes.begin(), phrase.notes.end(),
                      [](const PhraseNote& note) { return note.role == PhraseRole::landing; }));
  }
}

TEST_CASE("shipped phrases can be played in one position of the guitar") {
  const auto guitar = neck::standard_guitar();
  for (const auto& kept : shipped()) {
    INFO(kept.name);
    neck::Setting setting;
    setting.instrument = &guitar;
    setting.key = kept.phrase.key;
    setting.home = neck::find_position(guitar, setting.key, {}).value();
    auto bars = kept.phrase;
    bars.notes.clear();
    const auto placed = answer_for(kept.phrase, bars, setting);
    CHECK(placed.notes.size() == kept.phrase.notes.size());
    for (const auto& note : placed.notes) {
      CHECK(note.string.has_value());
      CHECK(note.fret.has_value());
    }
  }
}
