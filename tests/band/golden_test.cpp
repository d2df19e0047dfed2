#include "band/fixture.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::band;
using band::testing::form_of;
using band::testing::request_for;

namespace {

/// A feel that uses every kind of cell, and that no one retunes.
constexpr std::string_view text = R"(
name: golden
swing: 62 eighths
colour: rich
drums:
  ride | x. xo x. xo |
  kick | x. .. x. .o |
drums:
  ride | x. xo xo x. |
drums fill 2 beats:
  snare | xox xx. |
drums fill 1 beat:
  snare | oxXX |
bass:
  line | 1 w w w | w 5 v a |
bass:
  line | 1- -3 8x r. | 1 7 6 p |
  touch | X o x o |
comping:
  chords | -. .x .. x. | l. h. 12 xp |
comping:
  chords | X . , o | x - - - |
)";

/// FNV-1a over every number of the events: the same on all platforms.
std::uint64_t fingerprint(const std::vector<Event>& events) {
  std::uint64_t hash = 14695981039346656037u;
  const auto add = [&](std::int64_t number) {
    for (int i = 0; i < 8; ++i) {
      hash ^= static_cast<std::uint64_t>(number >> (8 * i)) & 0xff;
      hash *= 1099511628211u;
    }
  };
  for (const auto& event : events) {
    add(event.at.count);
    add(event.length.count);
    add(static_cast<int>(event.part));
    add(event.note.number);
    add(event.velocity);
  }
  return hash;
}

struct Golden {
  int chorus;
  double intensity;
  std::uint64_t seed;
  bool humanised;
  bool ending;
  std::uint64_t fingerprint;
};

} // namespace

TEST_CASE("plans are the same on every platform") {
  band::testing::Book book;
  book.add(*parse_feel(text));
  const auto form =
      form_of("Dm7 | G7 | Cmaj7 A7b9 | NC F/G | ! Em7b5 | A7 | Dm7 G7 | C6", "C", "golden");
  const Golden table[] = {
      {0, 0.5, 1, false, false, 7294056543611699304u},
      {1, 0.9, 1, false, false, 3983933659621409833u},
      {0, 0.5, 99, true, false, 5656271729510272150u},
      {3, 0.1, 99, false, true, 15525395506059938079u},
  };
  for (const auto& golden : table) {
    auto request = request_for(form, golden.chorus, golden.intensity, golden.seed);
    request.humanised = golden.humanised;
    request.ending = golden.ending;
    CAPTURE(golden.chorus);
    CHECK(fingerprint(plan_chorus(request, book)) == golden.fingerprint);
  }
}
