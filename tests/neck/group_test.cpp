#include "neck/support.hpp"

#include <algorithm>
#include <set>

using namespace landfall::neck;

namespace {

std::vector<Group> groups_of(const char* key, PlaceRequest place, const char* chord) {
  const Asked asked{.key = key, .place = place};
  return asked.view(chord, {.groups = true, .grips = false}).groups;
}

bool has_group(const std::vector<Group>& groups, std::array<int, 3> strings,
               std::array<int, 3> frets, std::string_view form) {
  return std::any_of(groups.begin(), groups.end(), [&](const Group& group) {
    return group.strings == strings && group.frets == frets && group.form == form;
  });
}

} // namespace

TEST_CASE("the triads of a G chord at the third fret are those of every triad lesson") {
  const auto found = groups_of("G", {.shape = 'E'}, "G");
  CHECK(has_group(found, {6, 5, 4}, {3, 5, 5}, "1-5-1"));
  CHECK(has_group(found, {5, 4, 3}, {5, 5, 4}, "second inversion"));
  CHECK(has_group(found, {4, 3, 2}, {5, 4, 3}, "root position"));
  CHECK(has_group(found, {3, 2, 1}, {4, 3, 3}, "first inversion"));
  CHECK(has_group(found, {6, 5, 4}, {3, 2, 5}, "root position") == false);
}

TEST_CASE("closed triads on the top strings, all three forms up the neck") {
  CHECK(has_group(groups_of("C", {.position = 3}, "C"), {3, 2, 1}, {5, 5, 3}, "root position"));
  CHECK(has_group(groups_of("C", {.position = 8}, "C"), {3, 2, 1}, {9, 8, 8}, "first inversion"));
  CHECK(has_group(groups_of("C", {.position = 0}, "C"), {3, 2, 1}, {0, 1, 0}, "second inversion"));
  CHECK(
      has_group(groups_of("Am", {.position = 8}, "Am"), {3, 2, 1}, {9, 10, 8}, "second inversion"));
}

TEST_CASE("sus chords make triads with their fourth, fifth chords make only fifths") {
  const auto sus = groups_of("A", {}, "Dsus4");
  CHECK(std::any_of(sus.begin(), sus.end(),
                    [](const Group& group) { return group.kind == Group::Kind::triad; }));
  for (const auto& group : groups_of("A", {}, "A5"))
    CHECK(group.kind == Group::Kind::fifth);
}

TEST_CASE("every way of taking one chord tone per string is found, the slow way") {
  for (const char* chord : {"A", "D7", "F#m", "Bdim", "E+"})
    for (int low = 0; low < 12; ++low) {
      const auto found = groups_of("A", {.position = low}, chord);
      const ChordTones tones(chord_of(chord));
      const Fretboard board(standard_guitar());
      const int first = low == 0 ? 0 : low - 1;
      const auto is_one_of = [&](int pitch, std::set<int>& sounds) {
        const int tone = (pitch - tones.root + 120) % 12;
        sounds.insert(tone);
        return tone == 0 || tone == tones.third || tone == tones.fifth;
      };
      std::size_t expected = 0;
      for (int s = 0; s < 4; ++s)
        for (int a = first; a <= low + 4; ++a)
          for (int b = first; b <= low + 4; ++b)
            for (int c = first; c <= low + 4; ++c) {
              const int p = *board.pitch(s, a), q = *board.pitch(s + 1, b),
                        r = *board.pitch(s + 2, c);
              std::set<int> sounds;
              const std::array<bool, 3> members{is_one_of(p, sounds), is_one_of(q, sounds),
                                                is_one_of(r, sounds)};
              const bool whole = sounds.size() == 3 || sounds == std::set{0, tones.fifth};
              if (members == std::array{true, true, true} && whole && p < q && q < r &&
                  r - p < 18 && std::max({a, b, c}) - std::min({a, b, c}) <= 4)
                ++expected;
            }
      CAPTURE(std::string(chord));
      CAPTURE(low);
      CHECK(found.size() == expected);
    }
}

TEST_CASE("groups of the grip come first") {
  for (const char* chord : {"A", "D", "E", "F#m"}) {
    const auto found = groups_of("A", {}, chord);
    CHECK(found.front().in_grip);
    CHECK(std::is_partitioned(found.begin(), found.end(),
                              [](const Group& group) { return group.in_grip; }));
  }
}

TEST_CASE("the nearest note of the coming chord: common tone, half step, whole step, leap") {
  const Asked asked{.key = "A"};
  const auto now = landing(asked.setting(), chord_of("A"));
  const auto next = landing(asked.setting(), chord_of("D"));
  const auto all = leads(now, next);
  REQUIRE(all.size() == now.size());
  for (const auto& lead : all) {
    const int distance = next[lead.to].midi - now[lead.from].midi;
    CHECK(lead.half_steps == distance);
    for (const auto& other : next)
      CHECK(std::abs(other.midi - now[lead.from].midi) >= std::abs(distance));
    const auto degree = ascii(now[lead.from].degree);
    if (degree == "1") // A stays, as the fifth of D.
      CHECK(lead.motion == Motion::common_tone);
    if (degree == "3") // C sharp rises to D.
      CHECK((lead.motion == Motion::half_step && lead.half_steps == 1));
    if (degree == "5") // E lies a whole step from both D and F sharp: the guide tone wins.
      CHECK((lead.motion == Motion::whole_step));
  }
  CHECK(leads(now, {}).empty());
  CHECK(leads({}, next).empty());
}

TEST_CASE("a guide-tone line moves least through the changes") {
  const Asked asked{.key = "C", .place = {.shape = 'A'}};
  const auto line_through = [&](const std::vector<const char*>& symbols) {
    std::vector<std::optional<landfall::theory::Chord>> chords;
    for (const auto* symbol : symbols)
      chords.push_back(symbol == nullptr ? std::nullopt : std::optional(chord_of(symbol)));
    return guide_line(asked.setting(), chords);
  };
  const auto line = line_through({"Dm7", "G7", nullptr, "Cmaj7"});
  REQUIRE(line.size() == 4);
  CHECK_FALSE(line[2]);
  int moved = 0;
  for (const auto& [from, to] : {std::pair(0, 1), std::pair(1, 3)})
    moved += std::abs(line[static_cast<std::size_t>(to)]->midi -
                      line[static_cast<std::size_t>(from)]->midi);
  CHECK(moved == 1); // C B B, or F F E.
  for (const auto& note : line)
    CHECK((!note || note->guide));
  CHECK(line_through({"C5", "F"})[0].has_value());
  CHECK_FALSE(line_through({nullptr})[0]);
  CHECK(line_through({}).empty());
}

TEST_CASE("guide tones are marked, and shown when outside the set") {
  const Asked asked{.key = "A", .set = "minor pentatonic"};
  bool outside = false;
  for (const auto& note : asked.view("A7").notes) {
    const auto degree = ascii(note.degree);
    CHECK(note.guide == (degree == "3" || degree == "b7"));
    outside = outside || (note.role == Role::chord && note.guide && !note.in_set);
  }
  CHECK(outside);
}

TEST_CASE("if no chord tone is in the set, all are lit and marked as outside it") {
  const Asked none{.key = "C", .set = "1 2 3", .over = landfall::theory::Over::key};
  for (const auto& note : none.view("Ebm").notes)
    CHECK(note.role == (note.in_set ? Role::set : Role::landing));
}
