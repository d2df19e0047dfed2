#include "band/walk.hpp"
#include "time/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>

using namespace landfall;
using namespace landfall::band;
using theory::MidiNote;

namespace {

theory::Chord chord(const char* symbol) {
  return *theory::parse_chord(symbol);
}

Standing standing_of(const char* symbol, const char* key, const char* note) {
  const auto all = standings(chord(symbol), *theory::parse_key(key));
  return all[static_cast<std::size_t>(theory::pitch_class(*theory::parse_note(note)))];
}

std::vector<MidiNote> roots(int tone) {
  std::vector<MidiNote> result;
  for (int pitch = lowest_bass.number; pitch <= 47; ++pitch)
    if (pitch % 12 == tone)
      result.push_back({pitch});
  return result;
}

/// Half steps from a pitch to the nearest of the targets.
int distance_to(const std::vector<MidiNote>& targets, int from) {
  int least = 1000;
  for (const auto target : targets)
    least = std::min(least, std::abs(target.number - from));
  return least;
}

} // namespace

TEST_CASE("standings keep the key's notes that the chord does not contradict") {
  CHECK(standing_of("Dm7", "C", "F") == Standing::chord);
  CHECK(standing_of("Dm7", "C", "E") == Standing::scale);
  CHECK(standing_of("Dm7", "C", "G") == Standing::scale);
  CHECK(standing_of("Dm7", "C", "F#") == Standing::outside);
  CHECK(standing_of("A7", "C", "C") == Standing::outside);
  CHECK(standing_of("A7", "C", "C#") == Standing::chord);
  CHECK(standing_of("A7", "C", "D") == Standing::scale);
  CHECK(standing_of("Bm7b5", "C", "F") == Standing::chord);
  CHECK(standing_of("Cmaj7", "F", "Bb") == Standing::outside);
}

TEST_CASE("every walk reaches its root by step or fifth, within the register") {
  const char* chords[] = {"C", "Cm7", "C7", "Cmaj7", "Cm7b5", "Cdim7", "C7#9", "C5", "C+", "Csus2"};
  int fifths = 0;
  int steps_taken = 0;
  for (const auto* symbol : chords)
    for (int from = 28; from <= 55; ++from)
      for (int tone = 0; tone < 12; ++tone)
        for (const int steps : {1, 2, 3, 7})
          for (std::uint64_t seed = 0; seed < 2; ++seed) {
            const auto targets = roots(tone);
            if (distance_to(targets, from) > 12 * steps)
              continue;
            const auto way = walked({{from},
                                     steps,
                                     targets,
                                     standings(chord(symbol), {{theory::Letter::c, 0}, false}),
                                     seed});
            REQUIRE(way.size() == static_cast<std::size_t>(steps) + 1);
            CHECK(way.back().number % 12 == tone);
            MidiNote before{from};
            bool leapt = false;
            for (const auto note : way) {
              leapt = leapt || std::abs(note - before) > 12;
              CHECK((note >= lowest_bass && note <= highest_bass));
              before = note;
            }
            CHECK_FALSE(leapt);
            if (way.size() < 2)
              continue;
            const int last = way[way.size() - 2] - way.back();
            const bool step = std::abs(last) == 1 || std::abs(last) == 2;
            const bool fifth = last == 7 || last == -5;
            CHECK((step || fifth));
            (step ? steps_taken : fifths)++;
          }
  CHECK(steps_taken > fifths);
}

TEST_CASE("different draws take different ways") {
  const auto targets = roots(7);
  const auto standing = standings(chord("Dm7"), {{theory::Letter::c, 0}, false});
  const auto first = walked({{38}, 3, targets, standing, 1});
  bool differs = false;
  for (std::uint64_t seed = 2; seed < 12; ++seed)
    differs = differs || walked({{38}, 3, targets, standing, seed}) != first;
  CHECK(differs);
  CHECK(walked({{38}, 3, targets, standing, 1}) == first);
}
