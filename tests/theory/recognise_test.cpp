#include "theory/recognise.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace landfall::theory;

namespace {

std::vector<MidiNote> notes_of(const Chord& chord, int lowest = 48) {
  std::vector<MidiNote> result;
  int last = lowest - 1;
  for (const auto& note : notes(chord)) {
    int midi = lowest + pitch_class(note);
    while (midi <= last)
      midi += 12;
    result.push_back(MidiNote{last = midi});
  }
  return result;
}

std::string first(std::initializer_list<int> midi, const char* key) {
  std::vector<MidiNote> sounding;
  for (const int number : midi)
    sounding.push_back(MidiNote{number});
  const auto found = recognised_chords(sounding, parse_key(key).value());
  return found.empty() ? "" : ascii(found.front());
}

} // namespace

TEST_CASE("a chord is recognised by its own notes on every root") {
  const auto key = parse_key("C").value();
  for (int root = 0; root < 12; ++root)
    for (const auto* suffix :
         {"",   "m", "7",  "m7",   "maj7", "m7b5", "dim7", "sus4",  "7sus4", "6",
          "m6", "9", "m9", "maj9", "dim",  "+",    "add9", "mMaj7", "7b9",   "13"}) {
      const auto chord = parse_chord(ascii(spelled_in(key, root)) + suffix).value();
      const auto found = recognised_chords(notes_of(chord), key);
      REQUIRE_MESSAGE(!found.empty(), ascii(chord));
      CHECK_MESSAGE(same_tones(found.front(), chord),
                    ascii(chord) << " was read as " << ascii(found.front()));
      CHECK_FALSE(found.front().bass);
    }
}

TEST_CASE("chords are spelled in the key") {
  CHECK(first({58, 62, 65}, "Eb") == "Bb");
  CHECK(first({58, 62, 65}, "B") == "A#");
  CHECK(first({54, 57, 61, 64}, "E") == "F#m7");
  CHECK(first({54, 57, 61, 64}, "Db") == "Gbm7");
}

TEST_CASE("an inversion is written with its bass, a seventh chord may lack its fifth") {
  CHECK(first({52, 55, 60}, "C") == "C/E");
  CHECK(first({55, 59, 65}, "C") == "G7");
  CHECK(first({48, 52, 59}, "C") == "Cmaj7");
}

TEST_CASE("octaves and doubled notes change nothing, one note is no chord") {
  CHECK(first({45, 57, 64, 69, 73}, "A") == "A");
  CHECK(first({45, 57}, "A").empty());
  CHECK(first({45, 52}, "A") == "A5");
  CHECK(recognised_chords({}, Key{}).empty());
}

TEST_CASE("other readings follow, each once") {
  const std::vector<MidiNote> sounding{MidiNote{57}, MidiNote{60}, MidiNote{64}, MidiNote{67}};
  const auto found = recognised_chords(sounding, parse_key("C").value());
  REQUIRE(found.size() >= 2);
  CHECK(ascii(found[0]) == "Am7");
  CHECK(ascii(found[1]) == "C6/A");
  for (std::size_t i = 1; i < found.size(); ++i)
    CHECK_FALSE(found[i] == found[i - 1]);
}
