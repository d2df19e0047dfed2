#include "practice/fading.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::practice;

namespace {

ear::JudgedChange change(const char* chord, ear::Verdict verdict, const char* degree = nullptr) {
  ear::JudgedChange judged;
  judged.chord = *theory::parse_chord(chord);
  judged.verdict = verdict;
  if (degree != nullptr)
    judged.degree = *theory::parse_degree(degree);
  return judged;
}

double light(const Fading& fading, const char* chord, const char* degree,
             FadingSpeed speed = FadingSpeed::slow) {
  return fading.brightness(*theory::parse_chord(chord), *theory::parse_degree(degree), speed);
}

const auto landed = ear::Verdict::landed;

} // namespace

TEST_CASE("a light dims chorus by chorus, fast sooner than slow, and off not at all") {
  Fading fading;
  double slow = 1.0, fast = 1.0;
  for (int i = 0; i < 12; ++i) {
    fading.learn(std::vector{change("A", landed, "3"), change("A", landed, "3")});
    CHECK(light(fading, "A", "3") <= slow);
    slow = light(fading, "A", "3");
    fast = light(fading, "A", "3", FadingSpeed::fast);
    CHECK(fast <= slow);
    CHECK(light(fading, "A", "3", FadingSpeed::off) == 1.0);
    if (i == 0)
      CHECK(slow == 1.0); // once is not yet reliable, twice in a chorus neither
    if (i == 3)
      CHECK(slow == doctest::Approx(0.7));
  }
  CHECK(slow == doctest::Approx(0.08));
}

TEST_CASE("other degrees and other chords stay lit; the bass and the octave make no other light") {
  Fading fading;
  for (int i = 0; i < 5; ++i)
    fading.learn(std::vector{change("A9/E", landed, "9")});
  CHECK(light(fading, "A9", "2") < 1.0);
  CHECK(light(fading, "A9", "3") == 1.0);
  CHECK(light(fading, "A", "9") == 1.0);
}

TEST_CASE("a miss lights the whole chord again, in the same chorus too; a rest changes nothing") {
  for (const auto miss : {ear::Verdict::late, ear::Verdict::off}) {
    Fading fading;
    for (int i = 0; i < 5; ++i)
      fading.learn(std::vector{change("A", landed, "3"), change("D", landed, "1")});
    const auto before = fading;
    fading.learn(std::vector{change("A", ear::Verdict::rest), change("D", ear::Verdict::rest)});
    CHECK(fading == before);
    fading.learn(std::vector{change("A", landed, "3"), change("A", miss, "3")});
    CHECK(light(fading, "A", "3") == 1.0);
    CHECK(light(fading, "D", "1") < 1.0);
  }
}

TEST_CASE(
    "the player's own word counts for all of the chord, and lights come back from their counts") {
  Fading fading;
  auto own = change("E7", landed);
  own.own_word = true;
  for (int i = 0; i < 3; ++i)
    fading.learn(std::vector{own});
  for (const char* degree : {"1", "3", "5", "b7"})
    CHECK(light(fading, "E7", degree) == doctest::Approx(0.8));
  CHECK(Fading::from(fading.lights()) == fading);
}
