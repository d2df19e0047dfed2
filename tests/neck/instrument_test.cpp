#include "neck/support.hpp"

#include <filesystem>
#include <fstream>
#include <sstream>

using namespace landfall::neck;

namespace {

std::string contents(const std::filesystem::path& path) {
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

struct Bad {
  const char* text;
  int line;
  int column;
  const char* reason; ///< Part of it.
};

} // namespace

TEST_CASE("every shipped instrument loads, and has a place in every key") {
  int count = 0;
  const std::string folder = LANDFALL_SOURCE_DIR "/songs/instruments";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    CAPTURE(entry.path().string());
    const auto instrument = parse_instrument(contents(entry.path()));
    REQUIRE(instrument);
    ++count;
    for (const char* key : {"C", "F#", "Ebm", "B"}) {
      CHECK(find_position(*instrument, key_of(key), {}));
      CHECK(all_positions(*instrument, key_of(key)).size() >= 5);
    }
  }
  CHECK(count >= 14);
}

TEST_CASE("the built-in instruments are the shipped ones") {
  const std::string folder = LANDFALL_SOURCE_DIR "/songs/instruments/";
  CHECK(parse_instrument(contents(folder + "guitar.instrument")).value() == standard_guitar());
  CHECK(parse_instrument(contents(folder + "keyboard.instrument")).value() == standard_keyboard());
}

TEST_CASE("a file says all there is to an instrument") {
  const auto banjo = parse_instrument("# Five strings\n"
                                      "name: my banjo\n"
                                      "\n"
                                      "first frets: 5 0 0 0 0\n"
                                      "tuning: G4 C3 G3 C4 D4\r\n"
                                      "frets: 20\n"
                                      "capo: 2\n"
                                      "left-handed: yes\n"
                                      "hand: 5\n"
                                      "reach: 2\n")
                         .value();
  CHECK(banjo.name == "my banjo");
  CHECK(tuning_text(banjo) == "G4 C3 G3 C4 D4");
  CHECK(banjo.strings[0].first_fret == 5);
  CHECK(banjo.frets == 20);
  CHECK(banjo.capo == 2);
  CHECK(banjo.left_handed);
  CHECK(banjo.hand == 5);
  CHECK(banjo.reach == 2);
}

TEST_CASE("errors point at the line and column") {
  const std::vector<Bad> cases{
      {"", 1, 1, "no name"},
      {"name: x\n", 1, 1, "no strings"},
      {"name: x\ntuning: E2 H2\n", 2, 12, "note name"},
      {"name: x\ntuning: E2 A\n", 2, 13, "octave"},
      {"name: x\n  tuning:\n", 2, 10, "value"},
      {"just words\n", 1, 1, "name: value"},
      {"name: x\nstrings: 6\n", 2, 1, "unknown name"},
      {"name: x\nfrets: many\n", 2, 8, "number from 1 to 36"},
      {"name: x\nfrets: 0\n", 2, 8, "number from 1 to 36"},
      {"name: x\nfrets: 99999999999999999999\n", 2, 8, "number from"},
      {"name: x\nkind: trumpet\n", 2, 7, "fretted or keyboard"},
      {"name: x\nleft-handed: maybe\n", 2, 14, "yes or no"},
      {"name: x\ntuning: E2 A2\nfirst frets: 1\n", 3, 1, "as many first frets"},
      {"name: x\ntuning: E2 A2\nfirst frets: 0 x\n", 3, 16, "number from"},
      {"name: x\nkind: keyboard\nrange: C4\n", 3, 8, "lowest and the highest"},
      {"name: x\nkind: keyboard\nrange: C5 C4\n", 3, 8, "lowest and the highest"},
      {"name: x\nkind: keyboard\nrange: C4 E4\n", 3, 1, "narrower than the hand"},
      {"name: x\ntuning: E2 A2\nfrets: 5\ncapo: 4\n", 4, 1, "shorter than the hand"},
  };
  for (const auto& bad : cases) {
    CAPTURE(std::string(bad.text));
    const auto result = parse_instrument(bad.text);
    REQUIRE_FALSE(result);
    CHECK(result.error().line == bad.line);
    CHECK(result.error().column == bad.column);
    CHECK(result.error().reason.find(bad.reason) != std::string::npos);
  }
}

TEST_CASE("large and hostile files end in an error, quickly") {
  std::string many = "name: x\ntuning:";
  for (int i = 0; i < 100000; ++i)
    many += " E2";
  CHECK(parse_instrument(many).error().reason.find("more than 24") != std::string::npos);
  CHECK_FALSE(parse_instrument(std::string(1 << 20, ':')));
  CHECK_FALSE(parse_instrument(std::string("name: ") + std::string(1 << 20, 'x')));
  CHECK_FALSE(parse_instrument(std::string("\0\xff\xfe:\x80", 5)));
}

TEST_CASE("a tuning is read low string first, and another one keeps the first frets") {
  CHECK(parse_tuning(" D2 A2\tD3 ").value().size() == 3);
  CHECK(parse_tuning("").error().column == 1);
  CHECK(parse_tuning("E2 X").error().column == 4);
  CHECK(parse_tuning("E2 B9").error().reason.find("MIDI") != std::string::npos);
  auto banjo = tuned("G4 D3 G3 B3 D4");
  banjo.strings[0].first_fret = 5;
  const auto other = retuned(banjo, parse_tuning("G4 C3 G3 B3 D4").value());
  CHECK(other.strings[0].first_fret == 5);
  CHECK(other.strings[1].open.number == 48);
}

TEST_CASE("frets count from the capo, and a short string is open where it begins") {
  auto banjo = tuned("G4 D3 G3 B3 D4");
  banjo.strings[0].first_fret = 5;
  const Fretboard open(banjo);
  CHECK(open.pitch(0, 0) == 67);
  CHECK_FALSE(open.pitch(0, 5));
  CHECK(open.pitch(0, 7) == 69);
  CHECK(open.reentrant);
  banjo.capo = 2;
  const Fretboard capo(banjo);
  CHECK(capo.pitch(1, 0) == 52);
  CHECK(capo.pitch(0, 0) == 67);
  CHECK_FALSE(capo.pitch(0, 3));
  CHECK(capo.pitch(0, 5) == 69);
  CHECK(capo.frets == 20);
  CHECK_FALSE(capo.pitch(1, 21));
}
