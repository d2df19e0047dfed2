#include "app/library.hpp"
#include "app/phrase_files.hpp"
#include "app/run_command.hpp"
#include "app/sheet_fingering.hpp"
#include "app/sheet_rhythm.hpp"
#include "neck/instrument.hpp"
#include "song/musicxml.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <array>
#include <fstream>
#include <pugixml.hpp>
#include <sstream>

using namespace landfall;
using landfall::test::run;
using landfall::test::ScratchFolder;

namespace {

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string exported(std::vector<std::string> arguments) {
  const ScratchFolder scratch;
  const auto file = scratch.path / "s.musicxml";
  arguments.insert(arguments.end(), {"-o", file.string()});
  const auto ran = run(arguments);
  CAPTURE(ran.err);
  CHECK(ran.exit == 0);
  return bytes_of(file);
}

/// `1:0 A7`, a line for each chord that is written or new.
std::string changes_of(const song::Form& form) {
  std::string text;
  for (const auto& bar : form.bars)
    for (const auto& chord : bar.chords)
      if (chord.fresh)
        text += std::to_string(bar.number) + ":" + std::to_string(chord.at.count) + " " +
                (chord.chord ? ascii(*chord.chord) : "N.C.") + " " +
                std::to_string(bar.meter.beats) + "/" + std::to_string(bar.meter.unit) + "\n";
  return text;
}

/// A note as a reader of the score has it.
struct ReadNote {
  int at = 0, length = 0, midi = 0; ///< In divisions of a quarter by 24, from the first bar line.
  int string = 0, fret = 0;
  double bend = 0;

  bool operator==(const ReadNote&) const = default;
};

int midi_of(const pugi::xml_node& pitch) {
  constexpr std::array<int, 7> steps{9, 11, 0, 2, 4, 5, 7};
  const auto step = static_cast<std::size_t>(*pitch.child_value("step") - 'A');
  return (pitch.child("octave").text().as_int() + 1) * 12 + steps.at(step) +
         pitch.child("alter").text().as_int();
}

/// Reads notes; tied ones become one.
std::vector<ReadNote> notes_in(const std::string& score) {
  pugi::xml_document document;
  REQUIRE(document.load_string(score.c_str()));
  std::vector<ReadNote> notes;
  int at = 0, last = 0;
  bool first = true;
  for (const auto& measure : document.child("score-partwise").child("part").children("measure")) {
    int length = 0;
    for (const auto& note : measure.children("note"))
      length += note.child("chord") ? 0 : note.child("duration").text().as_int();
    if (first && measure.attribute("implicit"))
      at = -length;
    first = false;
    for (const auto& note : measure.children("note")) {
      const int duration = note.child("duration").text().as_int();
      if (!note.child("chord"))
        last = at, at += duration;
      if (note.child("rest"))
        continue;
      const int midi = midi_of(note.child("pitch"));
      if (note.find_child_by_attribute("tie", "type", "stop")) {
        for (auto before = notes.rbegin(); before != notes.rend(); ++before)
          if (before->midi == midi) {
            before->length += duration;
            break;
          }
        continue;
      }
      const auto technical = note.child("notations").child("technical");
      notes.push_back({last, duration, midi, technical.child("string").text().as_int(),
                       technical.child("fret").text().as_int(),
                       technical.child("bend").child("bend-alter").text().as_double()});
    }
  }
  return notes;
}

} // namespace

TEST_CASE("every song comes back from its score with the same changes at the same places") {
  for (const auto& file : app::song_files()) {
    CAPTURE(file.stem().string());
    std::istringstream nothing;
    const auto song = app::load_song(file.string(), nothing);
    REQUIRE(song);
    const auto form = unroll(*song->song);
    const auto again = song::import_musicxml(musicxml_of(form));
    REQUIRE(again.song);
    CHECK(again.diagnostics.empty());
    CHECK(changes_of(unroll(*again.song)) == changes_of(form));
    CHECK(again.song->key == form.key);
    CHECK(beats_per_minute(again.song->tempo, again.song->meter) ==
          doctest::Approx(beats_per_minute(form.tempo, form.bars.front().meter)).epsilon(0.001));
  }
}

TEST_CASE("symbols that no kind has are written so that they come back") {
  for (const char* symbol : {"Ab7#9b13", "F#m7b5/C", "Gsus4", "C6/9", "Bb13#11", "E7alt", "Dadd9",
                             "Cm11", "G7sus4", "Ebmaj7#11", "A5", "Am(maj7)", "B+", "Fmaj9#5"}) {
    CAPTURE(std::string(symbol));
    std::istringstream nothing;
    const auto song = app::load_song(std::string(symbol) + " | N.C. | A", nothing);
    REQUIRE(song);
    const auto form = unroll(*song->song);
    const auto again = song::import_musicxml(musicxml_of(form));
    REQUIRE(again.song);
    CHECK(again.diagnostics.empty());
    CHECK(changes_of(unroll(*again.song)) == changes_of(form));
  }
}

TEST_CASE("every phrase is read from its score with its pitches, lengths, strings, frets, bends") {
  const neck::Fretboard guitar(neck::standard_guitar());
  std::vector<std::string> problems;
  for (const auto& file : app::phrase_files(problems)) {
    CAPTURE(file.name);
    const auto& phrase = file.kept.phrase;
    const auto fingering = app::sheet::fingering_of(phrase, guitar, {}, 5);
    REQUIRE(fingering);
    std::vector<ReadNote> expected;
    for (std::size_t i = 0; i < phrase.notes.size(); ++i) {
      const auto& note = phrase.notes[i];
      const auto& stop = fingering->stops[i];
      expected.push_back({static_cast<int>(note.start.count / 40),
                          static_cast<int>(note.length.count / 40), note.midi.number, stop.string,
                          stop.fret, note.bend_cents.value_or(0) / 100});
    }
    CHECK(notes_in(exported({"phrase", file.name})) == expected);
  }
}

TEST_CASE("what a score does not hold is said, not dropped") {
  const ScratchFolder scratch;
  const auto file = (scratch.path / "s.musicxml").string();
  const auto ran = run({"export", "A | D", "-o", file, "--choruses", "2"});
  CHECK(ran.exit == 2);
  CHECK(landfall::test::count_lines(ran.err) == 1);
}
