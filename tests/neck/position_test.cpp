#include "neck/support.hpp"

#include <cmath>

using namespace landfall::neck;
using landfall::theory::Over;

namespace {

ChordShape shape_in(const char* key, char shape, const char* chord) {
  const Asked asked{.key = key, .place = {.shape = shape}};
  const Fretboard board(asked.instrument);
  return chord_shape(board, asked.setting().home, key_of(key), chord_of(chord)).value();
}

Position place(const char* key, PlaceRequest request, const Instrument& on = standard_guitar()) {
  return find_position(on, key_of(key), request).value();
}

std::string refusal(const char* key, PlaceRequest request,
                    const Instrument& on = standard_guitar()) {
  return find_position(on, key_of(key), request).error();
}

} // namespace

TEST_CASE("E flat as a C shape has its nut at 3, A flat there is an E shape, B flat a G shape") {
  const auto home = place("Eb", {.shape = 'C'});
  CHECK(home.shape == ChordShape{'C', 3});
  CHECK(home.low == 3);
  CHECK(home.high == 6);
  CHECK(shape_in("Eb", 'C', "Eb") == ChordShape{'C', 3});
  CHECK(shape_in("Eb", 'C', "Ab") == ChordShape{'E', 4});
  CHECK(shape_in("Eb", 'C', "Bb") == ChordShape{'G', 3});
}

TEST_CASE("I IV V under one hand are the shapes that players know") {
  CHECK(shape_in("A", 'E', "D") == ChordShape{'A', 5});
  CHECK(shape_in("A", 'E', "E") == ChordShape{'C', 4});
  CHECK(shape_in("C", 'A', "F") == ChordShape{'D', 3});
  CHECK(shape_in("C", 'A', "G") == ChordShape{'E', 3});
  CHECK(shape_in("C", 'G', "F") == ChordShape{'C', 5});
  CHECK(shape_in("C", 'G', "G") == ChordShape{'D', 5});
  CHECK(shape_in("C", 'C', "F") == ChordShape{'E', 1});
  CHECK(shape_in("C", 'C', "G") == ChordShape{'G', 0});
  CHECK(shape_in("D", 'D', "G") == ChordShape{'G', 0});
  CHECK(shape_in("D", 'D', "A") == ChordShape{'A', 0});
}

TEST_CASE("the default is an E shape, the lowest nut at or above 0") {
  CHECK(place("A", {}).shape == ChordShape{'E', 5});
  CHECK(place("E", {}).shape == ChordShape{'E', 0});
  CHECK(place("Eb", {}).shape == ChordShape{'E', 11});
  CHECK(place("E", {}).low == 0);
  CHECK(place("E", {}).high == 4);
  CHECK(place("A", {.shape = 'e'}) == place("A", {}));
}

TEST_CASE("a position is the first finger's fret, exactly; with a shape, its nearest octave") {
  for (int fret = 0; fret <= 19; ++fret)
    CHECK(place("F#", {.position = fret}).low == fret);
  CHECK(place("A", {.position = 5}).shape == ChordShape{'E', 5});
  CHECK(place("E", {.shape = 'E', .position = 5}).shape == ChordShape{'E', 0});
  CHECK(place("E", {.shape = 'E', .position = 9}).shape == ChordShape{'E', 12});
}

TEST_CASE("places that do not exist are refused in one line") {
  CHECK(refusal("A", {.position = 20}) == "position 20 is not on this neck: expected 0 to 19");
  CHECK(refusal("A", {.position = -1}).starts_with("position -1 "));
  CHECK(refusal("A", {.shape = 'H'}).starts_with("unknown shape 'H'"));
  CHECK(refusal("A", {.shape = 'C'}, tuned("D2 A2 D3 G3 A3 D4")).find("no meaning") !=
        std::string::npos);
  auto short_neck = standard_guitar();
  short_neck.frets = 12;
  CHECK(refusal("Eb", {.shape = 'E'}, short_neck) == "no E shape of Eb fits on this neck");
}

TEST_CASE("every key is offered all five shapes, up the neck, within it") {
  for (const char* key : {"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B", "Am"}) {
    const auto all = all_positions(standard_guitar(), key_of(key));
    std::string lowest;
    int previous = 0;
    for (const auto& position : all) {
      CHECK(position.low >= 0);
      CHECK(position.high <= 22);
      CHECK(std::abs(position.low - position.shape->nut) <= 1);
      CHECK(position.shape->nut >= previous);
      previous = position.shape->nut;
      if (position.shape->nut < 12)
        lowest += position.shape->name;
    }
    CHECK(lowest.size() == 5);
    CHECK(std::string("CAGEDCAGED").find(lowest) != std::string::npos);
  }
}

TEST_CASE("a minor pentatonic in an E shape lies one fret higher than the major scale") {
  const Asked major{.key = "A", .place = {}, .set = "major", .over = Over::key};
  const Asked minor{.key = "A", .place = {}, .set = "minor pentatonic", .over = Over::key};
  CHECK(major.view("A").hand.low == 4);
  CHECK(minor.view("A").hand.low == 5);
  CHECK(minor.view("A").home.low == 4);
}

TEST_CASE("a hand asked for by its fret stays there") {
  const Asked asked{.key = "A", .place = {.position = 4}, .set = "minor pentatonic"};
  CHECK(asked.view("A").hand.low == 4);
}

TEST_CASE("shapes follow the capo and a tuning with the same intervals, and vanish without them") {
  auto capo = standard_guitar();
  capo.capo = 2;
  CHECK(place("D", {.shape = 'C'}, capo).shape == ChordShape{'C', 0});
  CHECK(place("B", {}, tuned("B1 E2 A2 D3 F#3 B3")).shape == ChordShape{'E', 0});
  CHECK(place("A", {}, tuned("B1 E2 A2 D3 G3 B3 E4")).shape == ChordShape{'E', 5});
  CHECK_FALSE(place("D", {}, tuned("D2 A2 D3 G3 B3 E4")).shape);
  CHECK_FALSE(place("D", {}, tuned("E1 A1 D2 G2")).shape);
}

TEST_CASE("under the same hand in another key, the tonic takes the shape that lies there") {
  const Fretboard guitar(standard_guitar());
  const auto home = place("A", {});
  CHECK(chord_shape(guitar, home, key_of("D"), chord_of("D")) == ChordShape{'A', 5});
  CHECK(chord_shape(guitar, home, key_of("D"), chord_of("A")) == ChordShape{'E', 5});
}
