// The rules for places, hands and shapes, one by one, each worked out here a second time.

#include "neck/support.hpp"

#include <algorithm>
#include <cstdlib>
#include <tuple>

using namespace landfall::neck;
using landfall::theory::Over;
namespace theory = landfall::theory;

namespace {

PitchClasses tones(std::initializer_list<int> classes) {
  unsigned set = 0;
  for (const int tone : classes)
    set |= 1U << tone;
  return static_cast<PitchClasses>(set);
}

/// String (as players number them) and fret of one pitch, with the hand at `low`.
std::pair<int, int> place_of(const Fretboard& board, int pitch, PitchClasses set,
                             PitchClasses chord, int low) {
  for (const auto& place : places(board, set, chord, low))
    if (place.pitch == pitch)
      return {board.number(place.string), place.fret};
  return {0, 0};
}

constexpr int c = 0, c_sharp = 1, d = 2, e = 4, f = 5, a = 9, b = 11;

/// How many notes of the set lie in reach alone, seen from outside.
int reaches(Asked asked, int low, const std::optional<theory::Chord>& chord, theory::Over over) {
  asked.place = {.position = low};
  auto setting = asked.setting();
  setting.over = over;
  const auto notes = landfall::neck::view(setting, chord, {.groups = false, .grips = false}).notes;
  return static_cast<int>(std::count_if(
      notes.begin(), notes.end(), [](const NeckNote& note) { return note.reach && note.in_set; }));
}

bool on_neck(int low) {
  return low >= 0 && low <= 19;
}

int overlap_with(int nut, int box, int low) {
  int common = 0;
  for (int fret = nut; fret <= nut + box; ++fret)
    common += fret >= low && fret <= low + 3 ? 1 : 0;
  return common;
}

} // namespace

TEST_CASE("a pitch by reach stays with its half-step neighbour") {
  const Fretboard guitar(standard_guitar());
  const int pitch = 49; // C sharp: fret 9 of string 6, fret 4 of string 5.
  const auto third_finger = std::pair(6, 9), first_finger = std::pair(5, 4);
  CHECK(place_of(guitar, pitch, tones({c, c_sharp}), 0, 5) == third_finger);
  CHECK(place_of(guitar, pitch, tones({c_sharp, d}), 0, 5) == first_finger);
  const auto both = tones({c, c_sharp, d});
  CHECK(place_of(guitar, pitch, both, 0, 5) == first_finger);
  CHECK(place_of(guitar, pitch, both, tones({c}), 5) == third_finger);
  CHECK(place_of(guitar, pitch, both, tones({d}), 5) == first_finger);
  CHECK(place_of(guitar, pitch, both, tones({c, d}), 5) == first_finger);
}

TEST_CASE("failing a neighbour, it goes to the emptier string, then to the first finger") {
  const Fretboard guitar(standard_guitar());
  CHECK(place_of(guitar, 49, tones({c_sharp}), 0, 5) == std::pair(5, 4));
  CHECK(place_of(guitar, 49, tones({c_sharp, e, f}), 0, 5) == std::pair(6, 9));
  CHECK(place_of(guitar, 49, tones({c_sharp, a, b}), 0, 5) == std::pair(5, 4));
}

TEST_CASE("of two places in the hand: open, then the emptier string, then the lower fret") {
  CHECK(place_of(Fretboard(standard_guitar()), 59, tones({b}), 0, 0) == std::pair(2, 0));
  const Fretboard close(tuned("E2 F#2"));
  CHECK(place_of(close, 45, tones({a}), 0, 3) == std::pair(1, 3));
  CHECK(place_of(close, 45, tones({a, b}), 0, 3) == std::pair(2, 5));
}

TEST_CASE("the hand covers four frets and reaches one beyond; open it covers five") {
  const Fretboard guitar(standard_guitar());
  const auto all = tones({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11});
  for (int low = 0; low <= 19; ++low)
    for (const auto& place : places(guitar, all, 0, low)) {
      CHECK(place.fret >= (low == 0 ? 0 : low - 1));
      CHECK(place.fret <= std::min(22, low + 4));
      CHECK(place.reach == (low > 0 && (place.fret < low || place.fret > low + 3)));
    }
  auto bass = tuned("E1 A1 D2 G2");
  bass.hand = 3;
  for (const auto& place : places(Fretboard(bass), all, 0, 0))
    CHECK(place.reach == (place.fret == 4));
}

TEST_CASE("the home hand needs the fewest reaches; then it contains the box; then it is lowest") {
  for (int tonic = 0; tonic < 12; ++tonic)
    for (const bool minor : {false, true}) {
      const theory::Key key{theory::plain_note(tonic, true), minor};
      const auto name = ascii(key);
      Asked asked;
      asked.key = name.c_str();
      asked.set = minor ? "natural minor" : "major";
      for (const auto& home : all_positions(standard_guitar(), key)) {
        const int nut = home.shape->nut, box = find_shape(home.shape->name)->box;
        const auto rank = [&](int low) {
          return std::tuple(reaches(asked, low, std::nullopt, Over::key),
                            !(low <= nut && nut + box <= low + 3), low);
        };
        for (const int low : {nut - 1, nut, nut + 1})
          if (on_neck(low))
            CHECK(rank(home.low) <= rank(low));
        CHECK(std::abs(home.low - nut) <= 1);
      }
    }
}

TEST_CASE("a note set moves the hand only to save reaches") {
  for (const char* key : {"C", "Eb", "F#", "A", "Bm", "Gm"})
    for (const char* set : {"minor pentatonic", "blues", "major blues", "harmonic minor",
                            "composite", "lydian", "half-whole diminished"})
      for (const auto& home : all_positions(standard_guitar(), key_of(key))) {
        Asked asked{.key = key,
                    .place = {.shape = home.shape->name, .position = home.low},
                    .set = set,
                    .over = Over::key};
        const int low = asked.view(key).hand.low;
        const auto count = [&](int at) { return reaches(asked, at, chord_of("C"), Over::key); };
        CAPTURE(std::string(key));
        CAPTURE(std::string(set));
        CAPTURE(home.low);
        for (int other = home.shape->nut - 1; other <= home.shape->nut + 1; ++other)
          if (on_neck(other))
            CHECK(count(low) <= count(other));
        CHECK((low == home.low || count(low) < count(home.low)));
      }
}

TEST_CASE("for one chord the hand moves by one fret if that saves two reaches, downwards first") {
  int moved = 0, stayed_for_one = 0;
  for (const char* key : {"C", "Eb", "F#", "A", "Bm", "Gm"})
    for (const char* set : {"arpeggio", "fitting", "minor pentatonic", "major", "mixolydian"})
      for (const char* symbol : {"C7", "D", "Ebm7", "F#m7b5", "Ab", "Bb7", "B", "Gm"})
        for (const auto& home : all_positions(standard_guitar(), key_of(key))) {
          Asked asked{.key = key,
                      .place = {.shape = home.shape->name, .position = home.low},
                      .set = set,
                      .over = Over::chord};
          const auto chord = chord_of(symbol);
          const int base = landfall::neck::view(asked.setting(), std::nullopt, {}).hand.low;
          const int low = asked.view(symbol, {.groups = false, .grips = false}).hand.low;
          const auto saved = [&](int at) {
            return on_neck(at) ? reaches(asked, base, chord, Over::chord) -
                                     reaches(asked, at, chord, Over::chord)
                               : -99;
          };
          const int down = saved(base - 1), up = saved(base + 1);
          const int expected = std::max(down, up) < 2 ? base : down >= up ? base - 1 : base + 1;
          CAPTURE(std::string(key));
          CAPTURE(std::string(set));
          CAPTURE(std::string(symbol));
          CHECK(low == expected);
          moved += low != base ? 1 : 0;
          stayed_for_one += std::max(down, up) == 1 ? 1 : 0;
        }
  CHECK(moved > 20);
  CHECK(stayed_for_one > 20);
}

TEST_CASE("a chord's shape is the one whose box lies best under the home hand") {
  const Fretboard guitar(standard_guitar());
  for (int low = 0; low <= 19; ++low)
    for (int root = 0; root < 12; ++root)
      for (const char* suffix : {"", "m", "7"}) {
        const auto chord = chord_of(ascii(theory::plain_note(root, true)) + suffix);
        const ChordTones chord_tones(chord);
        const Position home{.shape = {}, .low = low, .high = low + 3, .exact = true};
        const auto found = chord_shape(guitar, home, key_of("C"), chord).value();
        const auto rank = [&](const ChordShape& shape) {
          const int box = find_shape(shape.name)->box;
          const int common = overlap_with(shape.nut, box, low);
          const double centre = std::abs(shape.nut + box / 2.0 - (low + 1.5));
          int in_hand = 0;
          const auto grip = shape_grip(guitar, shape, chord_tones);
          for (int string = 0; string < 6; ++string)
            in_hand += grip[string] >= low && grip[string] <= low + 3 ? 1 : 0;
          return std::tuple(-common, box + 1 - common, centre, -in_hand, shape.nut);
        };
        for (const auto& form : shape_forms())
          for (int nut = 0; nut + form.box <= 22; ++nut)
            if ((form.root + nut) % 12 == root)
              CHECK(rank(found) <= rank({form.name, nut}));
        CHECK((find_shape(found.name)->root + found.nut) % 12 == root);
      }
}
