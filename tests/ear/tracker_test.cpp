#include "ear/players.hpp"
#include "ear/sounding.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::ear;

namespace {

std::vector<HeardNote> notes_of(const std::vector<Event>& events) {
  return test::heard(events);
}

NoteOn on(int at, int midi, std::optional<int> string = std::nullopt) {
  return {Ticks{at}, string.value_or(0), midi, 90, string};
}
NoteOff off(int at, int midi, int channel = 0) {
  return {Ticks{at}, channel, midi};
}

constexpr Tempo at_120{500'000};

} // namespace

TEST_CASE("an end without a beginning says nothing") {
  CHECK(notes_of({off(10, 60)}).empty());
  const auto notes = notes_of({on(0, 60), off(10, 61), off(20, 60), off(30, 60)});
  REQUIRE(notes.size() == 1);
  CHECK(notes[0].off == Ticks{20});
}

TEST_CASE("a second beginning ends the first") {
  const auto notes = notes_of({on(0, 60), on(100, 60), off(150, 60)});
  REQUIRE(notes.size() == 2);
  CHECK(notes[0].off == Ticks{100});
  CHECK(notes[0].silent == Ticks{100});
  CHECK(notes[1].off == Ticks{150});
}

TEST_CASE("a note that was not ended is still down") {
  CHECK_FALSE(notes_of({on(0, 60)})[0].off.has_value());
}

TEST_CASE("the pedal keeps a note ringing, not down") {
  const auto notes = notes_of({Pedal{Ticks{0}, std::nullopt, true}, on(10, 60), off(20, 60),
                               Pedal{Ticks{90}, std::nullopt, false}});
  CHECK(notes[0].off == Ticks{20});
  CHECK(notes[0].silent == Ticks{90});
}

TEST_CASE("a string sounds one note; what begins while it sounds is slurred") {
  const auto notes = notes_of({on(0, 60, 2), on(50, 62, 2), off(60, 60, 2), off(90, 62, 2),
                               on(200, 64, 2), on(210, 70, 1)});
  REQUIRE(notes.size() == 4);
  CHECK(notes[0].off == Ticks{50});
  CHECK_FALSE(notes[0].slurred);
  CHECK(notes[1].slurred);
  CHECK_FALSE(notes[2].slurred);
  CHECK_FALSE(notes[2].off.has_value());
  CHECK_FALSE(notes[3].slurred);
  CHECK_FALSE(notes_of({on(0, 60), on(50, 62)})[1].slurred);
}

TEST_CASE("bends belong to their channel, and stay for the notes that follow") {
  const auto notes = notes_of({on(0, 60, 1), Bend{Ticks{10}, 1, 50.0}, Bend{Ticks{10}, 1, 70.0},
                               Bend{Ticks{20}, 1, 70.0}, on(30, 50, 2), off(40, 60, 1),
                               Bend{Ticks{50}, 1, 0.0}, on(60, 61, 1)});
  REQUIRE(notes.size() == 3);
  CHECK(notes[0].bends == std::vector<BendPoint>{{Ticks{10}, 70.0}});
  CHECK(notes[1].bends.empty());
  CHECK(notes[2].bends.empty());
  const auto bent = notes_of({Bend{Ticks{0}, 0, 200.0}, on(10, 60)});
  CHECK(bent[0].bends == std::vector<BendPoint>{{Ticks{10}, 200.0}});
}

TEST_CASE("strings that lag are put in order") {
  const auto notes = notes_of({on(100, 60, 1), on(90, 50, 6), on(120, 62, 1), on(95, 55, 5)});
  REQUIRE(notes.size() == 4);
  for (std::size_t i = 1; i < notes.size(); ++i)
    CHECK(notes[i - 1].on <= notes[i].on);
}

TEST_CASE("nothing that a channel or a note number can be does harm") {
  CHECK(notes_of({NoteOn{Ticks{0}, 0, 128, 90, std::nullopt},
                  NoteOn{Ticks{0}, 0, -1, 90, std::nullopt},
                  NoteOn{Ticks{0}, 16, 60, 90, std::nullopt}, NoteOff{Ticks{1}, -1, 60},
                  Bend{Ticks{2}, 99, 10.0}, Pedal{Ticks{3}, 77, true}})
            .empty());
}

TEST_CASE("hours of playing, and a note that hangs, take no more room") {
  Tracker tracker;
  tracker.take(on(0, 30));
  std::size_t most = 0;
  for (int at = 10; at < 2'000'000; at += 100) {
    tracker.take(on(at, 60));
    for (int i = 0; i < 3; ++i)
      tracker.take(Bend{Ticks{at + i}, 0, 10.0 * i});
    tracker.take(off(at + 50, 60));
    tracker.forget_before(Ticks{at - 10000}, 64);
    most = std::max(most, tracker.notes().size());
    CHECK(tracker.notes().front().bends.size() <= 4096);
  }
  CHECK(most <= 4200);
  Tracker clean;
  for (int at = 0; at < 1'000'000; at += 100) {
    clean.take(on(at, 60));
    clean.take(off(at + 50, 60));
    clean.forget_before(Ticks{at - 10000}, 64);
  }
  CHECK(clean.notes().size() <= 164);
}

TEST_CASE("every note of a wild stream ends after it began, and lies in order") {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    const auto notes = notes_of(test::wild(Ticks{200'000}, seed));
    for (std::size_t i = 0; i < notes.size(); ++i) {
      CHECK((i == 0 || notes[i - 1].on <= notes[i].on));
      CHECK((!notes[i].off || *notes[i].off >= notes[i].on));
      CHECK((!notes[i].silent || (notes[i].off && *notes[i].silent >= *notes[i].off)));
      for (std::size_t k = 1; k < notes[i].bends.size(); ++k)
        CHECK(notes[i].bends[k - 1].at < notes[i].bends[k].at);
    }
  }
}

TEST_CASE("a pitch is its median over 60 ms") {
  HeardNote note;
  note.midi = 60;
  CHECK(pitch_at(note, Ticks{0}, at_120) == Pitch{60, 0.0, true});
  note.bends = {{Ticks{0}, 34.0}};
  CHECK(pitch_at(note, Ticks{0}, at_120).settled);
  note.bends = {{Ticks{0}, 40.0}};
  CHECK_FALSE(pitch_at(note, Ticks{0}, at_120).settled);
  note.bends = {{Ticks{0}, 180.0}};
  CHECK(pitch_at(note, Ticks{0}, at_120).midi == 62);
  CHECK(pitch_at(note, Ticks{0}, at_120).settled);
  // 60 ms are 115 ticks: the longer half decides, if what follows agrees.
  note.bends = {{Ticks{0}, 200.0}, {Ticks{40}, 0.0}};
  CHECK(pitch_at(note, Ticks{0}, at_120) == Pitch{60, 0.0, true});
}

TEST_CASE("a bend arrives where it comes to stand") {
  HeardNote note;
  note.midi = 64;
  note.bends = {{Ticks{100}, 100.0}, {Ticks{150}, 200.0}};
  const auto arrival =
      bend_arrival(note, Ticks{0}, Ticks{900}, static_cast<neck::PitchClasses>(1U << 6U), at_120);
  REQUIRE(arrival);
  CHECK(arrival->at == Ticks{150});
  CHECK(arrival->pitch.midi == 66);
  CHECK_FALSE(
      bend_arrival(note, Ticks{0}, Ticks{140}, static_cast<neck::PitchClasses>(1U << 6U), at_120));
  CHECK_FALSE(
      bend_arrival(note, Ticks{0}, Ticks{900}, static_cast<neck::PitchClasses>(1U << 4U), at_120));
}
