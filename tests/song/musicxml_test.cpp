#include "song/harmony_symbol.hpp"
#include "song/musicxml.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

using namespace landfall;
using namespace landfall::song;

namespace {

Imported imported(const std::string& name) {
  std::ifstream file(std::string(LANDFALL_SOURCE_DIR) + "/tests/song/corpus/musicxml/" + name);
  std::stringstream text;
  text << file.rdbuf();
  return import_musicxml(text.str());
}

/// The chords of one chorus, `|` between bars, `/` for one that goes on.
std::string chords_of(const Song& song) {
  std::string text;
  for (const auto& bar : unroll(song).bars) {
    text += text.empty() ? "" : " | ";
    bool first = true;
    for (const auto& chord : bar.chords) {
      text += first ? "" : " ";
      first = false;
      text += !chord.fresh ? "/" : chord.chord ? ascii(*chord.chord) : "N.C.";
    }
  }
  return text;
}

std::string symbol(const char* kind, std::string* problem = nullptr) {
  HarmonyElement harmony;
  harmony.kind = kind;
  std::string said;
  auto text = harmony_symbol(harmony, said);
  if (problem != nullptr)
    *problem = said;
  return text;
}

} // namespace

TEST_CASE("every usual kind of MusicXML is a chord of ours") {
  const std::pair<const char*, const char*> table[] = {{"major", "C"},
                                                       {"minor", "Cm"},
                                                       {"augmented", "C+"},
                                                       {"diminished", "Cdim"},
                                                       {"dominant", "C7"},
                                                       {"major-seventh", "Cmaj7"},
                                                       {"minor-seventh", "Cm7"},
                                                       {"diminished-seventh", "Cdim7"},
                                                       {"half-diminished", "Cm7b5"},
                                                       {"major-sixth", "C6"},
                                                       {"suspended-fourth", "Csus4"},
                                                       {"power", "C5"},
                                                       {"minor-11th", "Cm11"},
                                                       {"dominant-13th", "C13"},
                                                       {"none", "N.C."}};
  for (const auto& [kind, expected] : table) {
    std::string problem;
    CHECK(symbol(kind, &problem) == expected);
    CHECK_MESSAGE(problem.empty(), problem);
  }
}

TEST_CASE("degrees are added to the symbol, and what has no place is said") {
  HarmonyElement harmony;
  harmony.kind = "dominant";
  harmony.degrees = {{9, -1, "add"}, {5, 1, "alter"}};
  harmony.bass = 'E';
  std::string problem;
  CHECK(harmony_symbol(harmony, problem) == "C7(b9)(#5)/E");
  CHECK(problem.empty());
  CHECK(symbol("Neapolitan", &problem) == "C");
  CHECK(problem.find("Neapolitan") != std::string::npos);
}

#ifdef LANDFALL_HAVE_MUSICXML
TEST_CASE("repeats, endings, slash chords and several chords a bar are taken over") {
  const auto score = imported("endings.musicxml");
  REQUIRE(score.song);
  CHECK(score.song->title == "Low Tide");
  CHECK(ascii(score.song->key) == "A");
  CHECK(beats_per_minute(score.song->tempo, score.song->meter) == doctest::Approx(96.0));
  CHECK(chords_of(*score.song) == "A D7 | F#m7 | Bm7 | A D7 | F#m7 | E7b9/G | A N.C.");
  REQUIRE(score.diagnostics.size() == 1);
  CHECK(score.diagnostics[0].severity == Severity::warning);
  CHECK(score.diagnostics[0].message.find("Tristan") != std::string::npos);
}

TEST_CASE("pick-up, sections, another metre and a chord off the beat are taken over") {
  const auto score = imported("pickup.musicxml");
  REQUIRE(score.song);
  const auto form = unroll(*score.song);
  CHECK(form.pickup.size() == 1);
  REQUIRE(form.bars.size() == 3);
  CHECK(form.bars[0].section == "Verse");
  CHECK(form.bars[2].section == "Bridge");
  CHECK(form.bars[2].meter == Meter{3, 4});
  REQUIRE(form.bars[0].chords.size() == 2);
  CHECK(form.bars[0].chords[1].at == Ticks{1440});
  CHECK(ascii(*form.bars[1].chords[0].chord) == "Bm");
}

TEST_CASE("what is no score is one error") {
  CHECK(imported("broken.musicxml").diagnostics.at(0).severity == Severity::error);
  CHECK(imported("no-chords.musicxml").diagnostics.at(0).message ==
        "there are no chord symbols in the score");
  CHECK_FALSE(import_musicxml("").song);
  CHECK_FALSE(import_musicxml("<html></html>").song);
}
#endif
