#include "practice/lesson.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::practice;

namespace {

constexpr std::string_view sample = R"(# A lesson of ours
title: Five chords under one hand
about: Guitar, from open chords to positions.
instrument: guitar

scene: The hand
say: One finger a fret.
note: Look at the thumb.
note: Wait for the slow ones.
song: slipway-at-six
key: A
place: E shape
set: major pentatonic over the chord
show: landing, set, grip
labels: degree
tempo: 72
mute: drums

scene: Thirds
say: Only the thirds now.
target: thirds
loop: 4-1

scene: Another tune
song: Dm7 | G7 | Cmaj7 | Cmaj7
room: trade, echo, sparse
place: C shape fret 12
board: only
)";

Lesson lesson() {
  auto read = read_lesson(sample, {});
  REQUIRE_MESSAGE(read, (read ? "" : read.error().reason));
  return *read;
}

std::string error_of(const std::string& line) {
  const auto read = read_lesson("scene: one\n" + line + "\n", {});
  if (read)
    return "read";
  return std::to_string(read.error().line) + ":" + std::to_string(read.error().column) + " " +
         read.error().reason;
}

} // namespace

TEST_CASE("a lesson's head and scenes are read") {
  const auto read = lesson();
  CHECK(read.title == "Five chords under one hand");
  CHECK(read.instrument == "guitar");
  REQUIRE(read.scenes.size() == 3);
  const auto& first = read.scenes[0];
  CHECK(first.notes.size() == 2);
  CHECK(ascii(*first.key) == "A");
  CHECK(first.place == neck::PlaceRequest{'E', std::nullopt});
  CHECK(first.set->name == "major pentatonic");
  CHECK(first.over == theory::Over::chord);
  CHECK(first.show->grip);
  CHECK_FALSE(first.show->groups);
  CHECK(first.muted->at(0));
  CHECK(*read.scenes[1].loop == BarRange{1, 4});
  CHECK(read.scenes[2].place == neck::PlaceRequest{'C', 12});
  CHECK(read.scenes[2].line == 24);
}

TEST_CASE("a scene keeps what it does not change; another song brings its own key and tempo") {
  const auto read = lesson();
  const auto second = whole_scene(read, 1);
  CHECK(second.song == "slipway-at-six");
  CHECK(*second.tempo == 72);
  CHECK(second.set->name == "major pentatonic");
  CHECK(second.notes.empty());
  const auto third = whole_scene(read, 2);
  CHECK_FALSE(third.key);
  CHECK_FALSE(third.tempo);
  CHECK_FALSE(third.loop);
  CHECK(third.target == neck::parse_target("thirds").value());
  CHECK(*third.neck_only);
  CHECK(third.density == "sparse");
}

TEST_CASE("a lesson as text reads back as the same") {
  const auto text = as_text(lesson());
  const auto again = read_lesson(text, {});
  REQUIRE(again);
  CHECK(as_text(*again) == text);
  CHECK(again->scenes.size() == 3);
  CHECK(again->scenes[2].kind == "echo");
}

TEST_CASE("what is wrong in a lesson is said at its place") {
  CHECK(read_lesson("title: x\n", {}).error().reason.find("expected a scene") == 0);
  CHECK(read_lesson("tempo: 90\nscene: x", {}).error().reason.find("expected title") == 0);
  CHECK(error_of("tempo: 500") == "2:8 expected a number from 20 to 400");
  CHECK(error_of("place: H shape") == "2:8 expected C, A, G, E or D before `shape`");
  CHECK(error_of("place: E shape fret x") == "2:21 expected a number from 0 to 127");
  CHECK(error_of("place: up there") == "2:8 expected `E shape`, `fret 5` or both");
  CHECK(error_of("loop: four") == "2:7 expected bars such as `1-4`, or `none`");
  CHECK(error_of("room: jam, sofa") == "2:11 does not know 'sofa' here");
  CHECK(error_of("board: round") == "2:8 expected position, whole or only");
  CHECK(error_of("key: H").find("2:6 ") == 0);
  CHECK(error_of("set: nonsense").find("2:6 ") == 0);
  CHECK(error_of("colour: red").find("2:1 unknown name 'colour'") == 0);
  CHECK(error_of("say:") == "2:5 expected a value after the colon");
}
