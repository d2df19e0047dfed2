#include "midi/message.hpp"
#include "midi/smf.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <string>
#include <unistd.h>

using namespace landfall;
using namespace landfall::midi;
namespace smf = landfall::midi::smf;

namespace {

std::string output_of(const std::string& command) {
  std::string text;
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
  std::array<char, 4096> buffer{};
  while (pipe && std::fgets(buffer.data(), buffer.size(), pipe.get()) != nullptr)
    text += buffer.data();
  return text;
}

} // namespace

TEST_CASE("an independent reader finds in our file what we put there") {
  const std::string python = LANDFALL_PYTHON;
  if (output_of("'" + python + "' -c 'import mido; print(1)' 2>/dev/null") != "1\n") {
    MESSAGE("skipped: no python3 with mido");
    return;
  }
  smf::File file;
  smf::Track conductor;
  conductor.add({0}, smf::Text{smf::TextKind::track_name, "Slow water"});
  conductor.add({0}, Tempo{714'286});
  conductor.add({0}, smf::Metre{6, 8});
  conductor.add({0}, smf::KeySignature{-3, true});
  conductor.add({2880}, smf::Text{smf::TextKind::marker, "Cm7"});
  conductor.end = {11'520};
  smf::Track bass;
  bass.add({0}, program(1, 33));
  bass.add_note({0}, {960}, 1, 36, 70);
  bass.add_note({960}, {20'000}, 1, 43, 71);
  bass.add({1000}, control(1, 64, 127));
  bass.add({1001}, bend(1, -700));
  bass.sort();
  file.tracks = {conductor, bass};

  const auto bytes = smf::write(file);
  const auto path = std::filesystem::temp_directory_path() /
                    ("landfall-smf-" + std::to_string(getpid()) + ".mid");
  std::ofstream(path, std::ios::binary)
      .write(reinterpret_cast<const char*>(bytes.data()),
             static_cast<std::streamsize>(bytes.size()));
  const auto seen = output_of("'" + python + "' " LANDFALL_SOURCE_DIR "/tests/midi/smf_check.py " +
                              path.string());
  std::filesystem::remove(path);
  CHECK(seen == "type 1 division 960 tracks 2\n"
                "0 0 track_name name=Slow water\n"
                "0 0 set_tempo tempo=714286\n"
                "0 0 time_signature clocks_per_click=36 denominator=8 "
                "notated_32nd_notes_per_beat=8 numerator=6\n"
                "0 0 key_signature key=Cm\n"
                "0 2880 marker text=Cm7\n"
                "0 11520 end_of_track\n"
                "1 0 program_change channel=1 program=33\n"
                "1 0 note_on channel=1 note=36 velocity=70\n"
                "1 960 note_off channel=1 note=36 velocity=64\n"
                "1 960 note_on channel=1 note=43 velocity=71\n"
                "1 1000 control_change channel=1 control=64 value=127\n"
                "1 1001 pitchwheel channel=1 pitch=-700\n"
                "1 20960 note_off channel=1 note=43 velocity=64\n"
                "1 20960 end_of_track\n");
}
