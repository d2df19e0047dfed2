#include "song/changes.hpp"
#include "song/parser.hpp"
#include "song/songs_at_hand.hpp"
#include "song/unroll.hpp"
#include "song/writer.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace landfall;
using namespace landfall::song;

namespace {

using Random = std::mt19937;

std::size_t below(Random& random, std::size_t limit) {
  return random() % limit;
}

/// Reads, and if it is a song, does all that can be done with one.
void use(const std::string& text) {
  const ReadSong read = read_song(text);
  bool error = false;
  for (const Diagnostic& diagnostic : read.diagnostics) {
    error = error || diagnostic.severity == Severity::error;
    REQUIRE(diagnostic.at.line >= 1);
    REQUIRE(diagnostic.at.column >= 1);
    REQUIRE(diagnostic.message.find('\n') == std::string::npos);
  }
  REQUIRE(error == !read.song.has_value());
  REQUIRE(read.diagnostics.size() <= 200);
  if (!read.song)
    return;
  const std::string written = as_text(*read.song);
  const auto again = parse_song(written);
  CAPTURE(text);
  CAPTURE(written);
  REQUIRE(again);
  REQUIRE(*again == *read.song);
  const Form form = unroll(*read.song, {{theory::Letter::f, 1}, false});
  REQUIRE(form.bars.size() == unrolled_bars(*read.song));
  changes(form);
}

std::string noise(Random& random) {
  std::string text(below(random, 200), ' ');
  for (char& c : text)
    c = static_cast<char>(random());
  return text;
}

std::string words(Random& random) {
  static const char* const vocabulary[] = {"|",
                                           "|:",
                                           ":|",
                                           "||",
                                           ":|:",
                                           "A",
                                           "Dm7",
                                           "I",
                                           "ii7",
                                           "b7",
                                           "5",
                                           "/",
                                           "//",
                                           "%",
                                           "N.C.",
                                           "space",
                                           "(",
                                           ")",
                                           "1.",
                                           "2.",
                                           "3.",
                                           "1-2.",
                                           "x3",
                                           "\n",
                                           "V:",
                                           "W:",
                                           "Pick-up:",
                                           "key: D\n",
                                           " ",
                                           "\t",
                                           "#",
                                           "# ",
                                           "C/E",
                                           "x",
                                           "form: V W\n",
                                           "tempo: 50\n",
                                           "meter: 6/8\n",
                                           "\n| ",
                                           " |\n",
                                           "meter: 7/16\n",
                                           "feel: swing\n",
                                           "title: x\n",
                                           "♭",
                                           "Δ",
                                           "7(b9",
                                           "\r\n"};
  std::string text = below(random, 2) == 0 ? "key: A\n| A |" : "";
  for (std::size_t i = below(random, 40); i > 0; --i) {
    text += vocabulary[below(random, std::size(vocabulary))];
    text += below(random, 3) == 0 ? " " : "";
  }
  return text;
}

void damage(std::string& text, Random& random) {
  for (std::size_t i = 1 + below(random, 4); i > 0 && !text.empty(); --i) {
    const std::size_t at = below(random, text.size());
    switch (below(random, 4)) {
    case 0:
      text[at] = static_cast<char>(random());
      break;
    case 1:
      text.erase(at, 1 + below(random, 8));
      break;
    case 2:
      text.insert(at, text.substr(below(random, text.size()), below(random, 12)));
      break;
    default:
      text[at] = "|:/%()#x1.\nbAIv "[below(random, 16)];
    }
  }
}

} // namespace

TEST_CASE("any bytes are a song or an error, never anything else") {
  Random random(1);
  for (int i = 0; i < 1'000; ++i)
    use(noise(random));
}

TEST_CASE("any words of the format in any order are a song or an error") {
  Random random(2);
  for (int i = 0; i < 4'000; ++i)
    use(words(random));
}

TEST_CASE("damaged songs are a song or an error") {
  Random random(3);
  const auto songs = shipped_songs();
  for (int i = 0; i < 1'500; ++i) {
    std::string text = songs[below(random, songs.size())].text;
    damage(text, random);
    use(text);
  }
}

TEST_CASE("texts without measure get a clear error") {
  struct Case {
    std::string text;
    std::string part;
  };
  std::string bars;
  while (bars.size() < 900'000)
    bars += "| A | D | E | A |\n";
  std::string errors;
  while (errors.size() < 900'000)
    errors += "| H | H | H |\n";
  std::string open;
  while (open.size() < 900'000)
    open += "| C7(C7(C7(C7(C7(C7(C7(C7(C7(C7(C7(C7(C7(C7(\n";
  std::string sections;
  for (int i = 0; sections.size() < 900'000; ++i)
    sections += "S" + std::to_string(i) + ": | A |\n";
  std::string form = "form: V";
  for (int i = 0; i < 900; ++i)
    form += " x99";
  const Case cases[] = {
      {std::string(10'000'000, 'A'), "longer than a million bytes"},
      {"| " + std::string(500'000, '/') + " |", "longer than 4000 bytes"},
      {bars, "more than 4000 bars"},
      {errors, "no chord"},
      {open, ""},
      {sections, "more than 4000 bars"},
      {"key: A\n|: A | A | A | A |\n" + std::string("| A | A | A | A :| x64\n") +
           "|: A | A | A | A | A | A | A | A | A | A | A | A | A | A | A | A |\n"
           "| A | A | A | A | A | A | A | A | A | A | A | A | A | A | A | A |\n"
           "| A | A | A | A | A | A | A | A | A | A | A | A | A | A | A | A |\n"
           "| A | A | A | A | A | A | A | A | A | A | A | A | A | A | A | A :| x64\n",
       ""},
      {form + "\nV: | A | A | A | A | A |\n", "1000 sections"},
      {"| " + std::string(1'900, '/') + " A |", ""},
      {"key: A\n| " + std::string(1'900, '(') + " |", "expected )"},
  };
  for (const Case& example : cases) {
    const auto song = parse_song(example.text);
    CAPTURE(example.text.substr(0, 60));
    if (song)
      CHECK(unroll(*song).bars.size() <= most_bars);
    else
      CHECK_MESSAGE(song.error().reason.find(example.part) != std::string::npos,
                    song.error().reason);
  }
}
