#include "band/fixture.hpp"
#include "time/random.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace landfall;
using namespace landfall::band;

namespace {

const std::string smallest = "name: small\n"
                             "drums:\n"
                             "  kick | x... |\n"
                             "bass:\n"
                             "  line | 1 - - - |\n"
                             "comping:\n"
                             "  chords | x - - - |\n";

struct Bad {
  std::string what;
  std::string text;
  int line;
  int column;
};

} // namespace

TEST_CASE("the smallest feel is read") {
  const auto feel = parse_feel(smallest);
  REQUIRE(feel);
  CHECK(feel->name == "small");
  REQUIRE(feel->drums.size() == 1);
  CHECK(feel->drums[0].rows[0].note.number == 36);
  CHECK(feel->drums[0].rows[0].cells.bars == std::vector<std::string>{"x..."});
  CHECK(feel->drums[0].beats == 4);
  CHECK(feel->bass[0].line.bars[0] == "1---");
  CHECK_FALSE(feel->comping[0].level);
  CHECK_FALSE(feel->comping[0].touch);
}

TEST_CASE("settings are read, spaces and comments do not matter") {
  const auto feel = parse_feel("name:  two words # and a comment\r\n"
                               "\n"
                               "about: one line\n"
                               "meter: 12/8\n"
                               "swing: 62.5 sixteenths\n"
                               "colour: rich\n"
                               "hands: guitar\n"
                               "voices: 5\n"
                               "sounds: comping 27, bass 1, kit 41\n"
                               "mix: comping 10, drums 150\n"
                               "opening: second crash\n"
                               "drums fill full 2 beats:\n"
                               "\tlow floor tom | xx. .xX\n"
                               "drums ending:\n"
                               " kick | x... | X. .. .. .. |\n"
                               "drums quiet:\n"
                               " kick |x...|\n"
                               "bass medium:\n"
                               " line | 135a678v wr-x1--- |\n"
                               " touch | x o , X |\n"
                               "comping full:\n"
                               " chords | xXo, lhpP 1234 5--. |\n"
                               "count-in:\n"
                               " claves | x . x . | x x x x |");
  REQUIRE_MESSAGE(feel, (feel ? "" : feel.error().reason));
  CHECK(feel->name == "two words");
  CHECK(feel->about == "one line");
  CHECK(feel->meter == song::Meter{12, 8});
  CHECK(feel->swing == Swing{625, true});
  CHECK(feel->colour == Colour::rich);
  CHECK(feel->hands == Hands::guitar);
  CHECK(feel->voices == 5);
  CHECK(feel->sounds == Sounds{0, 26, 40});
  CHECK(feel->mix == Mix{150, 100, 10});
  CHECK(feel->opening == theory::MidiNote{57});
  REQUIRE(feel->drums.size() == 3);
  CHECK(feel->drums[0].role == Role::fill);
  CHECK(feel->drums[0].beats == 2);
  CHECK(feel->drums[0].level == Level::full);
  CHECK(feel->drums[1].role == Role::ending);
  CHECK(feel->drums[1].rows[0].cells.bars.size() == 2);
  CHECK(feel->bass[0].touch->bars[0] == "xo,X");
  CHECK(feel->comping[0].line.bars[0] == "xXo,lhpP12345--.");
  CHECK(feel->count_in[0].cells.bars.size() == 2);
}

TEST_CASE("what cannot be read is said with its place") {
  const std::vector<Bad> table{
      {"nothing", "", 1, 1},
      {"no name", "drums:\n kick | x... |\nbass:\n line | 1... |\ncomping:\n chords | x... |", 6,
       1},
      {"no setting", "name: a\nspeed: 4\n", 2, 1},
      {"twice", "name: a\nname: b\n", 2, 1},
      {"no value", "name: a\nabout: \nmeter:", 2, 1},
      {"meter", "meter: 4/5\n", 1, 10},
      {"uneven meter", "meter: 7/8\n", 1, 8},
      {"beats of the meter", "meter: x/4\n", 1, 8},
      {"swing", "swing: 95 eighths\n", 1, 8},
      {"swing's unit", "swing: 60 halves\n", 1, 11},
      {"voices", "voices: 6\n", 1, 9},
      {"colour", "colour: blue\n", 1, 9},
      {"sounds", "sounds: bass 0\n", 1, 14},
      {"sounds' part", "sounds: bass 3, flute 4\n", 1, 17},
      {"opening", "opening: gong\n", 1, 10},
      {"row without block", "name: a\n kick | x... |\n", 2, 2},
      {"no block", "flute:\n", 1, 1},
      {"quality", "drums loud:\n", 1, 7},
      {"fill of bass", "bass fill:\n", 1, 6},
      {"too long a fill", "drums fill 5 beats:\n", 1, 12},
      {"fill's unit", "drums fill 2 bars:\n", 1, 14},
      {"no drum", "drums:\n gong | x... |\n", 2, 2},
      {"drum twice", "drums:\n kick | x... |\n kick | x... |\n", 3, 2},
      {"cell", "drums:\n kick | x.q. |\n", 2, 11},
      {"bass cell", "bass:\n line | 1 - 9 - |\n", 2, 13},
      {"comping cell", "comping:\n chords | x w - - |\n", 2, 13},
      {"cells in a bar", "drums:\n kick | x.... |\n", 2, 9},
      {"five in a beat", "drums:\n kick | x.... ..... ..... ..... |\n", 2, 9},
      {"empty bar", "drums:\n kick | x... | |\n", 2, 16},
      {"no cells", "drums:\n kick |\n", 2, 8},
      {"touch first", "bass:\n touch | x... |\n", 2, 2},
      {"line twice", "bass:\n line | 1... |\n line | 1... |\n", 3, 2},
      {"empty block", "drums:\nbass:\n line | 1... |\n", 1, 1},
      {"setting in a block", smallest + "about: late\n", 8, 1},
      {"qualities of the count-in", "count-in full:\n", 1, 10},
  };
  for (const auto& bad : table) {
    CAPTURE(bad.what);
    const auto feel = parse_feel(bad.text);
    REQUIRE_FALSE(feel);
    CAPTURE(feel.error().reason);
    CHECK(feel.error().line == bad.line);
    CHECK(feel.error().column == bad.column);
    CHECK_FALSE(feel.error().reason.empty());
  }
}

TEST_CASE("more than a feel can need is refused") {
  CHECK_FALSE(parse_feel(smallest + std::string(300 * 1024, '#')));
  std::string many = smallest;
  for (int i = 0; i < 300; ++i)
    many += "drums:\n kick | x... |\n";
  CHECK_FALSE(parse_feel(many));
  std::string wide = "name: a\ndrums:\n kick |";
  for (int i = 0; i < 20; ++i)
    wide += " x... |";
  CHECK_FALSE(parse_feel(wide));
}

TEST_CASE("cut or damaged files never break the reader") {
  for (const auto& name : band::testing::shipped().names()) {
    const auto whole = band::testing::read_source("songs/feels/" + name + ".feel");
    for (std::size_t size = 0; size < whole.size(); size += 7)
      (void)parse_feel(whole.substr(0, size));
    for (std::uint64_t i = 0; i < 300; ++i) {
      auto text = whole;
      for (std::uint64_t k = 0; k < 4; ++k)
        text[drawn_below(text.size(), {i, k, 1})] = static_cast<char>(drawn({i, k, 2}) & 0xff);
      const auto feel = parse_feel(text);
      if (!feel) {
        CHECK(feel.error().line >= 1);
        CHECK(feel.error().column >= 1);
      }
    }
  }
}

TEST_CASE("the program's own feel is whole") {
  CHECK(plain_feel().name == "plain");
  CHECK(plain_feel().drums.size() == 5);
  CHECK_FALSE(plain_feel().count_in.empty());
}

TEST_CASE("intensity chooses the level by thirds") {
  CHECK(level_of(0) == Level::quiet);
  CHECK(level_of(0.33) == Level::quiet);
  CHECK(level_of(0.34) == Level::medium);
  CHECK(level_of(0.5) == Level::medium);
  CHECK(level_of(0.67) == Level::full);
  CHECK(level_of(7) == Level::full);
  CHECK(level_of(-7) == Level::quiet);
  CHECK(level_of(std::numeric_limits<double>::quiet_NaN()) == Level::quiet);
}
