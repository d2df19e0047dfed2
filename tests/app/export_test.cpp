#include "app/run_command.hpp"
#include "app/song_file.hpp"

#include <doctest/doctest.h>

#include <fstream>

using namespace landfall;
using landfall::test::run;
using landfall::test::ScratchFolder;

namespace {

std::vector<std::uint8_t> exported(std::vector<std::string> arguments) {
  const ScratchFolder scratch;
  const auto file = scratch.path / "song.mid";
  arguments.insert(arguments.begin(), "export");
  arguments.insert(arguments.end(), {"-o", file.string()});
  const auto ran = run(arguments);
  CAPTURE(ran.err);
  REQUIRE(ran.exit == 0);
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

midi::smf::File file_of(const std::vector<std::string>& arguments) {
  const auto bytes = exported(arguments);
  auto file = midi::smf::read(bytes);
  REQUIRE(file);
  return *file;
}

} // namespace

TEST_CASE("an exported song is as long as its choruses, however many") {
  for (const int choruses : {1, 2, 4, 26}) {
    const auto file = file_of({"slipway-at-six", "--choruses", std::to_string(choruses)});
    REQUIRE(file.tracks.size() == 4);
    CHECK(file.tracks[0].name() == "Slipway at Six");
    for (const auto& track : file.tracks)
      CHECK(track.end == quarter * 32 * choruses);
    std::size_t chords = 0;
    for (const auto& event : file.tracks[0].events)
      if (const auto* text = std::get_if<midi::smf::Text>(&event.content))
        chords += text->kind == midi::smf::TextKind::marker;
    CHECK(chords == 8U * static_cast<unsigned>(choruses));
  }
}

TEST_CASE("the same seed gives the same bytes, another seed other ones") {
  const auto first = exported({"slipway-at-six", "--choruses", "3", "--seed", "5"});
  CHECK(exported({"slipway-at-six", "--choruses", "3", "--seed", "5"}) == first);
  CHECK(exported({"slipway-at-six", "--choruses", "3", "--seed", "6"}) != first);
}

TEST_CASE("parts and a count-in are chosen") {
  CHECK(file_of({"slipway-at-six", "--parts", "bass"}).tracks.size() == 2);
  const auto counted = file_of({"slipway-at-six", "--count-in"});
  CHECK(counted.tracks[0].end == quarter * 36);
  CHECK(counted.tracks.back().name() == "click");
  CHECK(run({"export", "slipway-at-six", "-o", "x.mid", "--parts", "flute"}).exit == 2);
  CHECK(run({"export", "slipway-at-six", "-o", "x.ogg"}).exit == 2);
}

TEST_CASE("an ending closes the file at the same length; looser playing repeats from its seed") {
  const auto looped = exported({"slipway-at-six", "--choruses", "2"});
  CHECK(exported({"slipway-at-six", "--choruses", "2", "--ending"}) != looped);
  const auto file = file_of({"slipway-at-six", "--choruses", "2", "--ending"});
  for (const auto& track : file.tracks)
    CHECK(track.end == quarter * 64);
  const auto loose = exported({"slipway-at-six", "--loose", "--seed", "3"});
  CHECK(loose == exported({"slipway-at-six", "--loose", "--seed", "3"}));
  CHECK(loose != exported({"slipway-at-six", "--seed", "3"}));
}

TEST_CASE("every note that begins in an exported file ends in it") {
  for (const char* song : {"slipway-at-six", "round-the-roundabout", "the-fifth-step-is-missing"}) {
    for (const auto& track : file_of({song, "--choruses", "2"}).tracks) {
      std::array<int, 128> sounding{};
      for (const auto& event : track.events)
        if (const auto* message = std::get_if<midi::ShortMessage>(&event.content)) {
          const auto status = message->bytes[0] & 0xF0;
          auto& count = sounding[message->bytes[1] & 0x7F];
          if (status == 0x90)
            CHECK(++count == 1);
          else if (status == 0x80)
            CHECK(--count == 0);
        }
      for (const int count : sounding)
        CHECK(count == 0);
    }
  }
}

TEST_CASE("a minor song stays minor, and says so where --key asks for major") {
  const ScratchFolder folder;
  const auto path = (folder.path / "loop.mid").string();
  const auto said = run({"export", "Am7 | Dm7 | E7 | Am7", "--key", "C", "-o", path});
  CHECK(said.exit == 0);
  CHECK(said.err == "landfall: the song is minor: it is played in Cm\n");
  CHECK(run({"export", "Am7 | Dm7 | E7 | Am7", "--key", "Cm", "-o", path}).err.empty());
}
