#include "neck/support.hpp"

#include <algorithm>

using namespace landfall::neck;

namespace {

Position span(const char* key, std::optional<int> position = {}) {
  return find_position(standard_keyboard(), key_of(key), {.position = position}).value();
}

std::string refusal(PlaceRequest request) {
  return find_position(standard_keyboard(), key_of("C"), request).error();
}

} // namespace

TEST_CASE("a hand spans a tenth from an inversion of the tonic, near middle C") {
  CHECK(span("C").low == 60);
  CHECK(span("C").high == 76);
  CHECK(span("C", 1).low == 64);
  CHECK(span("C", 2).low == 55);
  CHECK(span("A").low == 57);
  CHECK(span("F#").low == 66);
  CHECK(span("Am", 1).low == 60);
  CHECK(span("C", 48).low == 48);
  CHECK_FALSE(span("C").shape);
}

TEST_CASE("what a keyboard does not have is refused") {
  CHECK(refusal({.shape = 'C'}).find("no shapes") != std::string::npos);
  CHECK(refusal({.position = 5}).find("inversion") != std::string::npos);
  CHECK(refusal({.position = 127}).find("no room") != std::string::npos);
  CHECK(refusal({.position = -1}).find("inversion") != std::string::npos);
}

TEST_CASE("every key of the set and the chord under the hand is there, once, upwards") {
  for (const char* key : {"C", "Eb", "F#m", "B"})
    for (const char* set : {"arpeggio", "major pentatonic", "blues"})
      for (const char* chord : {"C", "F7", "G7#9", "Bm7b5"})
        for (int inversion = 0; inversion < 3; ++inversion) {
          const Asked asked{standard_keyboard(), key, {.position = inversion}, set};
          const auto setting = asked.setting();
          const auto view = asked.view(chord);
          const auto rooted = resolved(setting.set, setting.over, setting.key, chord_of(chord));
          std::size_t at = 0;
          for (int pitch = setting.home.low; pitch <= setting.home.high; ++pitch) {
            const bool tone = degree_in(chord_of(chord), pitch % 12).has_value();
            if (!tone && !rooted.contains(pitch % 12))
              continue;
            REQUIRE(at < view.notes.size());
            const auto& note = view.notes[at++];
            CHECK(note.midi.number == pitch);
            CHECK(note.string == 0);
            CHECK_FALSE(note.fret);
            CHECK_FALSE(note.reach);
            CHECK(pitch_class(note.note) == pitch % 12);
          }
          CHECK(at == view.notes.size());
        }
}

TEST_CASE("groups are close triads and their inversions under the hand") {
  const Asked asked{standard_keyboard(), "C"};
  const auto view = asked.view("C");
  std::vector<std::string> forms;
  for (const auto& group : view.groups) {
    CHECK(group.pitches[2] - group.pitches[0] < 12);
    forms.emplace_back(group.form);
  }
  CHECK(forms == std::vector<std::string>{"root position", "first inversion", "second inversion"});
}

TEST_CASE("the grip is the close voicing nearest the start of the span") {
  const Asked asked{standard_keyboard(), "C"};
  std::vector<int> grip;
  for (const auto& note : asked.view("F").notes)
    if (note.in_grip)
      grip.push_back(note.midi.number);
  CHECK(grip == std::vector<int>{60, 65, 69});
}

TEST_CASE("spans are offered up the whole keyboard") {
  const auto all = all_positions(standard_keyboard(), key_of("C"));
  CHECK(all.size() > 15);
  CHECK(all.front().low >= 21);
  CHECK(all.back().high <= 108);
  CHECK(std::is_sorted(all.begin(), all.end(),
                       [](const Position& a, const Position& b) { return a.low < b.low; }));
}
