#include "theory/note_set.hpp"
#include "theory/scale.hpp"

#include <doctest/doctest.h>

using namespace landfall::theory;

namespace {
std::string names(const RootedSet& set) {
  std::string text;
  for (const auto note : set.notes)
    text += ascii(note) + " ";
  return text;
}
std::string over(const char* set, Over how, const char* key, const char* chord) {
  return names(resolved(parse_note_set(set).value(), how, parse_key(key).value(),
                        parse_chord(chord).value()));
}
} // namespace

TEST_CASE("a set stays on the key or moves with the chord") {
  CHECK(over("major pentatonic", Over::key, "A", "D7") == "A B C# E F# ");
  CHECK(over("Major Pentatonic", Over::chord, "A", "D7") == "D E F# A B ");
  CHECK(over("arpeggio", Over::chord, "A", "D7") == "D F# A C ");
  CHECK(over("1 2 B3 5", Over::chord, "A", "E") == "E F# G B ");
  CHECK(over("fitting", Over::chord, "C", "Dm7") == "D F G A C ");
  CHECK(over("fitting", Over::chord, "C", "Bm7b5") == "B D E F A ");
  CHECK(over("fitting", Over::chord, "C", "G7") == "G A B D F ");
}

TEST_CASE("without a chord the set stands on the tonic chord") {
  const auto set = resolved(parse_note_set("arpeggio").value(), Over::chord,
                            parse_key("Am").value(), std::nullopt);
  CHECK(names(set) == "A C E ");
}

TEST_CASE("every scale is a set by its name, and none has a degree twice") {
  for (const auto& scale : all_scales()) {
    const auto set = parse_note_set(scale.name);
    REQUIRE(set);
    CHECK(set->name == scale.name);
    CHECK(usual_over(*set) == Over::key);
    for (std::size_t i = 1; i < scale.degrees.size(); ++i)
      CHECK(half_steps(scale.degrees[i]) > half_steps(scale.degrees[i - 1]));
  }
  CHECK(find_scale("aeolian") == find_scale("Natural  minor"));
  CHECK(parse_note_set("composite")->degrees ==
        std::vector<Degree>{{1, 0}, {2, 0}, {3, -1}, {3, 0}, {5, 0}, {6, 0}, {7, -1}});
}

TEST_CASE("what is no set says so") {
  CHECK_FALSE(parse_note_set(""));
  CHECK(parse_note_set("1 2 q").error().column == 5);
  CHECK_FALSE(parse_note_set("major pentatonics"));
}

TEST_CASE("every quality has a fitting set of its own tones") {
  for (const char* name : {"C", "Cm", "C7", "Cdim7", "Cm7b5", "C+", "C7sus4"}) {
    const auto chord = parse_chord(name).value();
    const auto set = resolved(parse_note_set("fitting").value(), Over::chord, {}, chord);
    for (const auto tone : guide_tones(chord))
      CHECK(set.contains(pitch_class(note_at(chord.root, tone))));
  }
}
