#include "neck/label.hpp"
#include "neck/text.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::neck;

namespace {

struct Example {
  Instrument guitar = standard_guitar();
  Setting setting;
  theory::Chord chord = theory::parse_chord("D7").value();
  NeckView seen;

  Example() {
    setting.instrument = &guitar;
    setting.key = theory::parse_key("A").value();
    setting.set = theory::parse_note_set("major pentatonic").value();
    setting.home = find_position(guitar, setting.key, {}).value();
    seen = view(setting, chord);
  }

  std::string first_label(LabelKind kind, const char* degree) const {
    for (const auto& note : seen.notes)
      if (ascii(note.degree) == degree)
        return label(note, kind, setting.key, seen.hand);
    return "missing";
  }
};

} // namespace

TEST_CASE("a note is called by its degree, in chord or key, its name, its finger, or not") {
  const Example example;
  CHECK(example.first_label(LabelKind::degree, "b7") == "b7");
  CHECK(example.first_label(LabelKind::key_degree, "b7") == "b3");
  CHECK(example.first_label(LabelKind::name, "b7") == "C");
  CHECK(example.first_label(LabelKind::none, "b7").empty());
  for (const auto& note : example.seen.notes) {
    const auto finger = label(note, LabelKind::finger, example.setting.key, example.seen.hand);
    REQUIRE(finger.size() == 1);
    if (!note.reach)
      CHECK(finger == std::to_string(*note.fret - example.seen.hand.low + 1));
  }
}

TEST_CASE("label kinds and layers are read by name") {
  for (const char* name : {"degree", "key", "note", "finger", "none"})
    CHECK(parse_label_kind(name));
  CHECK_FALSE(parse_label_kind("colour"));
  const auto shown = parse_shown("landing, grip");
  REQUIRE(shown);
  CHECK(shown->landing);
  CHECK(shown->grip);
  CHECK_FALSE(shown->set);
  CHECK_FALSE(shown->groups);
  CHECK(parse_shown("all")->grips);
  CHECK_FALSE(parse_shown("landing,frets"));
}

TEST_CASE("each layer can be left out by itself") {
  const Example example;
  const auto count = [](const NeckView& seen, Role role) {
    return std::count_if(seen.notes.begin(), seen.notes.end(),
                         [&](const NeckNote& note) { return note.role == role; });
  };
  const auto only = [&](const char* layers) {
    auto seen = example.seen;
    show_only(seen, parse_shown(layers).value());
    return seen;
  };
  REQUIRE(count(example.seen, Role::set) > 0);
  CHECK(count(only("landing"), Role::set) == 0);
  CHECK(count(only("landing"), Role::landing) == count(example.seen, Role::landing));
  const auto set = only("set");
  CHECK(std::ssize(set.notes) == std::count_if(example.seen.notes.begin(), example.seen.notes.end(),
                                               [](const NeckNote& note) { return note.in_set; }));
  CHECK(count(set, Role::set) == std::ssize(set.notes));
  const auto grip = only("grip");
  CHECK(!grip.notes.empty());
  for (const auto& note : grip.notes)
    CHECK(note.in_grip);
  CHECK(only("groups").notes.empty());
  CHECK(only("groups").groups == example.seen.groups);
  CHECK(only("grips").grips == example.seen.grips);
}

TEST_CASE("diagrams and drawings carry the labels asked for") {
  const Example example;
  const auto names = diagram(example.setting, example.chord, example.seen, LabelKind::name);
  CHECK(names.find("F#") != std::string::npos);
  const auto blank = diagram(example.setting, example.chord, example.seen, LabelKind::none);
  CHECK(blank.find("b7") == std::string::npos);
  CHECK(blank.find("(*)") != std::string::npos);
  CHECK(svg(example.setting, example.chord, example.seen, LabelKind::name).find("F♯") !=
        std::string::npos);
}
