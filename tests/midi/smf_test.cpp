#include "midi/message.hpp"
#include "midi/smf.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>

using namespace landfall;
using namespace landfall::midi;
namespace smf = landfall::midi::smf;

namespace {

using Bytes = std::vector<std::uint8_t>;

Bytes bytes(const std::vector<int>& values) {
  return {values.begin(), values.end()};
}

/// A header of one track with `division`, then a track with `body`.
Bytes one_track(int division, const std::vector<int>& body, int type = 0) {
  std::vector<int> all{'M',
                       'T',
                       'h',
                       'd',
                       0,
                       0,
                       0,
                       6,
                       0,
                       type,
                       0,
                       1,
                       division >> 8,
                       division & 255,
                       'M',
                       'T',
                       'r',
                       'k',
                       0,
                       0,
                       0,
                       static_cast<int>(body.size())};
  all.insert(all.end(), body.begin(), body.end());
  return bytes(all);
}

smf::File song() {
  smf::File file;
  smf::Track conductor;
  conductor.add({0}, smf::Text{smf::TextKind::track_name, "Slow water"});
  conductor.add({0}, Tempo{714'286});
  conductor.add({0}, smf::Metre{6, 8});
  conductor.add({0}, smf::KeySignature{-3, true});
  conductor.add({0}, smf::Text{smf::TextKind::marker, "B\u266dmaj7"});
  conductor.add({2880}, Tempo{500'000});
  conductor.add({5760}, smf::Text{smf::TextKind::text, std::string(300, 'x')});
  conductor.end = {11'520};
  smf::Track bass;
  bass.add({0}, smf::Text{smf::TextKind::track_name, "bass"});
  bass.add({0}, program(1, 33));
  for (int i = 0; i < 12; ++i)
    bass.add_note({i * 960}, {960}, 1, 36 + i, 70 + i);
  bass.add({5000}, bend(1, -700));
  bass.sort();
  file.tracks = {conductor, bass};
  return file;
}

} // namespace

TEST_CASE("what is written reads back the same") {
  const auto file = song();
  const auto read = smf::read(smf::write(file));
  REQUIRE(read);
  CHECK(*read == file);
  CHECK(read->tracks[1].name() == "bass");
}

TEST_CASE("at equal ticks note-offs go before note-ons, and settings before both") {
  smf::Track track;
  track.add_note({0}, {960}, 0, 60, 90);
  track.add_note({960}, {960}, 0, 60, 90);
  track.add({960}, program(0, 4));
  track.sort();
  REQUIRE(track.events.size() == 5);
  CHECK(std::get<ShortMessage>(track.events[1].content) == program(0, 4));
  CHECK(std::get<ShortMessage>(track.events[2].content) == note_off(0, 60));
  CHECK(std::get<ShortMessage>(track.events[3].content) == note_on(0, 60, 90));
}

TEST_CASE("the bytes are those of the standard") {
  smf::File file;
  file.tracks.emplace_back();
  file.tracks[0].add({0}, smf::Metre{3, 4});
  file.tracks[0].add({200}, note_on(0, 60, 64));
  file.tracks[0].end = {200 + 0x4000};
  CHECK(smf::write(file) ==
        bytes({'M', 'T', 'h',  'd',  0,    0,  0,  6,    0,    1,    0,    1,    0x03, 0xC0,
               'M', 'T', 'r',  'k',  0,    0,  0,  19,   0,    0xFF, 0x58, 4,    3,    2,
               24,  8,   0x81, 0x48, 0x90, 60, 64, 0x81, 0x80, 0,    0xFF, 0x2F, 0}));
}

TEST_CASE("distances longer than the format's numbers are bridged") {
  smf::File file;
  file.tracks.emplace_back();
  file.tracks[0].add({1'000'000'000}, note_on(0, 60, 64));
  const auto read = smf::read(smf::write(file));
  REQUIRE(read);
  CHECK(*read == file);
}

TEST_CASE("reading: running status, exclusive skipped, other divisions, unknown chunks and metas") {
  SUBCASE("running status, over a meta event too") {
    const auto read = smf::read(one_track(
        480, {0, 0x90, 60, 1, 0x83, 0x60, 62, 2, 0, 0xFF, 1, 1, 'a', 0, 64, 3, 0, 0xFF, 0x2F, 0}));
    REQUIRE(read);
    const auto& events = read->tracks[0].events;
    REQUIRE(events.size() == 4);
    CHECK(events[1] == smf::Event{{960}, note_on(0, 62, 2)});
    CHECK(events[3] == smf::Event{{960}, note_on(0, 64, 3)});
  }
  SUBCASE("exclusive") {
    const auto read = smf::read(
        one_track(96, {0, 0xF0, 3, 1, 2, 0xF7, 5, 0xF7, 2, 9, 9, 1, 0xC2, 7, 0, 0xFF, 0x2F, 0}));
    REQUIRE(read);
    REQUIRE(read->tracks[0].events.size() == 1);
    CHECK(read->tracks[0].events[0] == smf::Event{{60}, program(2, 7)});
  }
  SUBCASE("an odd division is rounded to the nearest tick, without drift") {
    std::vector<int> body;
    for (int i = 0; i < 50; ++i)
      body.insert(body.end(), {1, 0xC0, 1});
    const auto read = smf::read(one_track(7, body));
    REQUIRE(read);
    for (int i = 0; i < 50; ++i)
      CHECK(read->tracks[0].events[static_cast<std::size_t>(i)].at ==
            Ticks{((i + 1) * 960 * 2 + 7) / 14});
  }
  SUBCASE("no end of track, data behind one, unknown chunks") {
    auto with_more = one_track(960, {0, 0xC0, 1});
    REQUIRE(smf::read(with_more));
    REQUIRE(smf::read(one_track(960, {0, 0xFF, 0x2F, 0, 1, 2, 3})));
    const auto chunk = bytes({'J', 'u', 'n', 'k', 0, 0, 0, 2, 1, 2});
    with_more.insert(with_more.begin() + 14, chunk.begin(), chunk.end());
    const auto read = smf::read(with_more);
    REQUIRE(read);
    CHECK(read->tracks.size() == 1);
  }
}

TEST_CASE("files that are no good: a reason and a place") {
  struct Bad {
    const char* name;
    Bytes file;
    const char* reason;
  };
  auto short_track = one_track(960, {0, 0xC0, 1});
  short_track.pop_back();
  auto missing = song();
  auto cut = smf::write(missing);
  cut[11] = 3;
  const std::vector<Bad> all{
      {"empty", {}, "not a MIDI file: it does not begin with MThd"},
      {"text", bytes({'h', 'e', 'l', 'l', 'o', ' ', 't', 'h', 'e', 'r', 'e', '.', '.', '.'}),
       "not a MIDI file: it does not begin with MThd"},
      {"type 2", one_track(960, {0, 0xFF, 0x2F, 0}, 2), "a MIDI file of type 2, expected 0 or 1"},
      {"film frames", one_track(0xE728, {0, 0xFF, 0x2F, 0}),
       "time in film frames, expected ticks to the quarter note"},
      {"no division", one_track(0, {0, 0xFF, 0x2F, 0}),
       "time in film frames, expected ticks to the quarter note"},
      {"cut", short_track, "the file is cut short"},
      {"track missing", cut, "the file has 2 tracks, expected 3"},
      {"no status", one_track(960, {0, 60, 64}), "a data byte without a status before it"},
      {"cut message", one_track(960, {0, 0x90, 60}), "the file is cut short"},
      {"bad data", one_track(960, {0, 0x90, 60, 0x90}), "a status byte in the middle of a message"},
      {"system message", one_track(960, {0, 0xF8}), "a system message that files do not have"},
      {"endless number", one_track(960, {0xFF, 0xFF, 0xFF, 0xFF, 1, 0xC0, 1}),
       "a number longer than four bytes"},
      {"too far", one_track(1, {0xFF, 0xFF, 0xFF, 0x7F, 0xC0, 1}), "a time too far from the start"},
      {"long text", one_track(960, {0, 0xFF, 1, 0x8F, 0x7F, 'a'}), "the file is cut short"},
      {"tempo", one_track(960, {0, 0xFF, 0x51, 2, 1, 1}), "a tempo of 2 bytes, expected 3"},
      {"no tempo", one_track(960, {0, 0xFF, 0x51, 3, 0, 0, 0}), "a tempo of nothing"},
      {"metre", one_track(960, {0, 0xFF, 0x58, 4, 4, 40, 24, 8}),
       "a metre of 4 over 2 to the power of 40"},
      {"key", one_track(960, {0, 0xFF, 0x59, 2, 9, 0}), "a key signature of 9 sharps"},
  };
  for (const auto& bad : all) {
    CAPTURE(std::string(bad.name));
    const auto read = smf::read(bad.file);
    REQUIRE_FALSE(read);
    CHECK(read.error().reason == bad.reason);
    CHECK(read.error().offset <= bad.file.size());
  }
}

TEST_CASE(
    "the corpus: every good file reads and survives a round trip, every bad one has a reason") {
  namespace fs = std::filesystem;
  const fs::path corpus = LANDFALL_SOURCE_DIR "/tests/midi/corpus/smf";
  int files = 0;
  for (const auto& entry : fs::recursive_directory_iterator(corpus)) {
    if (!entry.is_regular_file())
      continue;
    ++files;
    CAPTURE(entry.path().string());
    std::ifstream in(entry.path(), std::ios::binary);
    const Bytes file{std::istreambuf_iterator<char>(in), {}};
    const auto read = smf::read(file);
    const bool good = entry.path().parent_path().filename() == "good";
    REQUIRE(static_cast<bool>(read) == good);
    if (!good)
      CHECK_FALSE(read.error().reason.empty());
    else
      CHECK(*smf::read(smf::write(*read)) == *read);
  }
  CHECK(files >= 14);
}

TEST_CASE("more events than the limit are refused, not stored") {
  std::vector<std::uint8_t> body{0, 0xC0, 1};
  for (std::size_t i = 0; i < smf::event_limit; ++i)
    body.insert(body.end(), {0, 1});
  auto file = one_track(960, {});
  const auto size = static_cast<std::uint32_t>(body.size());
  for (std::size_t i = 0; i < 4; ++i)
    file[18 + i] = static_cast<std::uint8_t>(size >> (24 - 8 * i));
  file.insert(file.end(), body.begin(), body.end());
  const auto read = smf::read(file);
  REQUIRE_FALSE(read);
  CHECK(read.error().reason == "more than 1000000 events");
}

TEST_CASE("damaged files never crash the reader, and what it reads it can write") {
  const auto whole = smf::write(song());
  std::mt19937 random(11);
  int good = 0;
  for (int round = 0; round < 20'000; ++round) {
    auto damaged = whole;
    for (auto edits = random() % 4; edits < 4; ++edits)
      damaged[random() % damaged.size()] = static_cast<std::uint8_t>(random());
    damaged.resize(damaged.size() - random() % 8 * (random() % 8));
    if (const auto read = smf::read(damaged)) {
      ++good;
      REQUIRE(smf::read(smf::write(*read)));
    }
  }
  CHECK(good > 100);
}
