#include "app/data.hpp"
#include "app/own_data.hpp"
#include "app/phrase_files.hpp"
#include "app/phrase_midi.hpp"
#include "app/run_json.hpp"
#include "midi/message.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>

using namespace landfall;
using namespace landfall::app;
namespace smf = landfall::midi::smf;
using landfall::test::lines_of;
using landfall::test::OwnData;
using landfall::test::run;
using landfall::test::ScratchFolder;

namespace {

constexpr Ticks bar = quarter * 4;
const MidiPhraseOptions plain{"untitled", {}, ""};

smf::File through_bytes(const smf::File& file) {
  return smf::read(smf::write(file)).value();
}

/// What a MIDI file keeps of a note.
trade::PhraseNote bare(trade::PhraseNote note) {
  note.string = note.fret = std::nullopt;
  note.role = trade::PhraseRole::set;
  note.chord = 0;
  note.degree = {};
  return note;
}

/// A track of three quarter notes from a bar line on, on a channel.
smf::Track three_notes(int channel, Ticks from) {
  smf::Track track;
  for (int i = 0; i < 3; ++i)
    track.add_note(from + quarter * i, eighth, channel, 62 + 2 * i, 80 + i);
  track.sort();
  track.end = from + bar;
  return track;
}

void save(const std::filesystem::path& path, const smf::File& file) {
  const auto bytes = smf::write(file);
  std::ofstream(path, std::ios::binary)
      .write(reinterpret_cast<const char*>(bytes.data()),
             static_cast<std::streamsize>(bytes.size()));
}

} // namespace

TEST_CASE("every shipped phrase comes back from its MIDI file") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  std::vector<std::string> problems;
  const auto files = phrase_files(problems);
  REQUIRE(problems.empty());
  REQUIRE(files.size() >= 12);
  int bends = 0, pick_ups = 0;
  for (const auto& file : files) {
    const auto& kept = file.kept;
    CAPTURE(file.name);
    const auto back = phrase_from_midi(through_bytes(midi_of(kept, tempo_from_bpm(96))), plain);
    REQUIRE(back);
    CHECK(back->name == kept.name);
    CHECK(back->phrase.bars == kept.phrase.bars);
    CHECK(back->phrase.length == kept.phrase.length);
    CHECK(back->phrase.meter == kept.phrase.meter);
    CHECK(back->phrase.key == kept.phrase.key);
    CHECK(back->phrase.chords == kept.phrase.chords);
    REQUIRE(back->phrase.notes.size() == kept.phrase.notes.size());
    for (std::size_t i = 0; i < kept.phrase.notes.size(); ++i)
      CHECK(bare(back->phrase.notes[i]) == bare(kept.phrase.notes[i]));
    for (const auto& note : kept.phrase.notes)
      bends += note.bend_cents ? 1 : 0;
    pick_ups += kept.phrase.notes.front().start < Ticks{} ? 1 : 0;
  }
  CHECK(bends > 0);
  CHECK(pick_ups > 0);
}

TEST_CASE("a file without chords is a phrase in its key, from the bar of its first note") {
  smf::Track head;
  head.add({}, smf::Text{smf::TextKind::track_name, "Tar and rope"});
  head.add({}, smf::KeySignature{2, false});
  head.add({}, smf::Text{smf::TextKind::marker, "Intro"});
  const auto kept =
      phrase_from_midi(through_bytes({{head, three_notes(9, {}), three_notes(3, bar * 2)}}), plain);
  REQUIRE(kept);
  CHECK(kept->name == "Tar and rope");
  CHECK(ascii(kept->phrase.key) == "D");
  CHECK(kept->phrase.bars == 1);
  REQUIRE(kept->phrase.chords.size() == 1);
  CHECK(!kept->phrase.chords[0].chord);
  REQUIRE(kept->phrase.notes.size() == 3);
  CHECK(kept->phrase.notes[0].start == Ticks{});
  CHECK(kept->phrase.notes[0].length == eighth);
  CHECK(kept->phrase.notes[0].velocity == 80);
  CHECK(ascii(kept->phrase.notes[0].degree) == "1");
  CHECK(ascii(kept->phrase.notes[2].degree) == "3");
}

TEST_CASE("a chord marker a hair off the beat is read on it") {
  auto track = three_notes(0, {});
  track.add({}, smf::Text{smf::TextKind::marker, "A7"});
  track.add(quarter * 2 + Ticks{7}, smf::Text{smf::TextKind::marker, "D7"});
  track.sort();
  const auto kept = phrase_from_midi(through_bytes({{track}}), plain);
  REQUIRE(kept);
  REQUIRE(kept->phrase.chords.size() == 2);
  CHECK(kept->phrase.chords[1].at == quarter * 2);
  CHECK(trade::read_phrase(trade::phrase_text(*kept)).value().phrase.chords == kept->phrase.chords);
}

TEST_CASE("key signatures name every key of up to seven sharps or flats") {
  const char* const major[] = {"Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C",
                               "G",  "D",  "A",  "E",  "B",  "F#", "C#"};
  const char* const minor[] = {"Ab", "Eb", "Bb", "F",  "C",  "G",  "D", "A",
                               "E",  "B",  "F#", "C#", "G#", "D#", "A#"};
  for (int sharps = -7; sharps <= 7; ++sharps)
    for (const bool is_minor : {false, true}) {
      CAPTURE(sharps);
      smf::Track head;
      head.add({}, smf::KeySignature{sharps, is_minor});
      const auto kept = phrase_from_midi({{head, three_notes(0, {})}}, plain);
      const auto* const tonic = (is_minor ? minor : major)[sharps + 7];
      const auto wanted = theory::parse_key(std::string(tonic) + (is_minor ? "m" : "")).value();
      CHECK(kept->phrase.key.minor == is_minor);
      CHECK(theory::pitch_class(kept->phrase.key.tonic) == theory::pitch_class(wanted.tonic));
    }
}

TEST_CASE("the wheel counts as it stands when the note ends, in the range the file sets") {
  for (const int range : {2, 12}) {
    CAPTURE(range);
    smf::Track track;
    if (range != 2)
      for (const auto& [number, value] : {std::pair(101, 0), {100, 0}, {6, range}})
        track.add({}, midi::control(0, number, value));
    track.add_note({}, quarter, 0, 60, 90);
    track.add(eighth, midi::bend(0, 4096));
    track.add(quarter, midi::bend(0, 0));
    track.add_note(quarter * 2, quarter, 0, 62, 90);
    track.sort();
    const auto kept = phrase_from_midi(through_bytes({{track}}), plain);
    REQUIRE(kept);
    CHECK(kept->phrase.notes[0].bend_cents.value() == range * 50.0);
    CHECK(!kept->phrase.notes[1].bend_cents);
  }
}

TEST_CASE("what no phrase can be made of is said in one line") {
  const auto reason = [](const smf::File& file) { return phrase_from_midi(file, plain).error(); };
  CHECK(reason({}) == "expected a track with notes that are no drums");
  CHECK(reason({{three_notes(9, {})}}) == "expected a track with notes that are no drums");
  auto two = three_notes(0, {});
  two.add({}, smf::Metre{4, 4});
  two.add(bar, smf::Metre{3, 4});
  CHECK(reason({{two}}) == "expected one metre: a phrase has no other");
  auto odd = three_notes(0, {});
  odd.add({}, smf::Metre{4, 32});
  CHECK(reason({{odd}}).find("not 4/32") != std::string::npos);
  auto longer = three_notes(0, {});
  longer.add_note(bar * 64, quarter, 0, 60, 90);
  CHECK(reason({{longer}}) == "expected at most 64 bars, not 65");
  auto early = three_notes(0, {});
  early.add(bar * 3, smf::Text{smf::TextKind::marker, "A7"});
  CHECK(reason({{early}}).starts_with("expected a pick-up of at most two whole notes"));
  smf::Track many;
  for (int i = 0; i < 2001; ++i)
    many.add_note(Ticks{i * 10}, Ticks{5}, 0, 60, 90);
  CHECK(reason({{many}}) == "expected a phrase of at most 2000 notes");
  CHECK(phrase_from_midi({{three_notes(0, {})}}, {"x", {}, "| Q |"})
            .error()
            .starts_with("--over: column 3: "));
}

TEST_CASE("phrase writes MIDI and phrase files, and reads MIDI files in a key and over chords") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  const auto at = [&](const char* name) { return (scratch.path / name).string(); };
  REQUIRE(run({"phrase", "wet-rope", "-o", at("rope.mid"), "--tempo", "70"}).exit == 0);
  const auto there = run({"phrase", "wet-rope", "-o", at("rope.mid")});
  CHECK(there.exit == 1);
  CHECK(there.err.find("is there already") != std::string::npos);
  CHECK(run({"phrase", "wet-rope", "-o", at("rope.mid"), "--force"}).exit == 0);
  REQUIRE(run({"phrase", at("rope.mid"), "-o", at("rope.phrase")}).exit == 0);
  CHECK(load_phrase(at("rope.phrase"))->name == load_phrase("wet-rope")->name);

  save(at("line.mid"), {{three_notes(0, {})}});
  const auto over =
      lines_of(run({"phrase", at("line.mid"), "--key", "Dm", "--over", "| Dm7 G7 |", "--json"}));
  REQUIRE(over.size() == 1);
  CHECK(over[0]["name"] == "line");
  CHECK(over[0]["key"] == "Dm");
  CHECK(over[0]["chords"][1]["chord"] == "G7");
  CHECK(over[0]["notes"][0]["degree"] == "1");
  CHECK(over[0]["notes"][2]["degree"] == "7");

  CHECK(run({"phrase", "wet-rope", "-o", at("rope.wav")}).exit == 2);
  CHECK(run({"phrase", "-o", at("all.mid")}).exit == 2);
  CHECK(run({"phrase", "--tags", "mine"}).exit == 2);
  CHECK(run({"phrase", "wet-rope", "--key", "A"}).exit == 2);
  CHECK(run({"phrase", at("line.mid"), "--key", "H"}).exit == 2);
  std::ofstream(at("broken.mid")) << "MThd but no more";
  const auto broken = run({"phrase", at("broken.mid")});
  CHECK(broken.exit == 1);
  CHECK(broken.err.find("broken.mid: byte ") != std::string::npos);
}

TEST_CASE("a phrase is given a name and tags as it is written") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  const auto file = (scratch.path / "stern.phrase").string();
  REQUIRE(run({"phrase", "wet-rope", "--name", "Stern Line", "--tags", "bend, mine ,", "-o", file})
              .exit == 0);
  const auto kept = load_phrase(file);
  REQUIRE(kept);
  CHECK(kept->name == "Stern Line");
  CHECK(kept->tags == std::vector<std::string>{"bend", "mine"});
  CHECK(kept->phrase == load_phrase("wet-rope")->phrase);
  CHECK(run({"phrase", "wet-rope", "--name", "two\nlines"}).exit == 2);
  CHECK(run({"phrase", "wet-rope", "--name", " blank"}).exit == 2);
}

TEST_CASE("a MIDI file in the player's own folder stands among the phrases") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  const auto folder = user_data_folder() / "phrases";
  std::filesystem::create_directories(folder);
  save(folder / "deck-call.mid", {{three_notes(0, {})}});
  std::vector<std::string> problems;
  const auto files = phrase_files(problems);
  CHECK(problems.empty());
  CHECK(std::ranges::count(files, "deck-call", &PhraseFile::name) == 1);
  CHECK(load_phrase("deck-call")->phrase.notes.size() == 3);
}
