#include "song/form.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::song;

namespace {

Form form_of(std::string_view text) {
  return unroll(*parse_song(text));
}

} // namespace

TEST_CASE("metres") {
  CHECK(bar_length({4, 4}) == Ticks{3840});
  CHECK(bar_length({3, 4}) == Ticks{2880});
  CHECK(bar_length({7, 8}) == Ticks{3360});
  CHECK(bar_length({12, 8}) == Ticks{5760});
  CHECK(beats_in_bar({6, 8}) == 2);
  CHECK(beats_in_bar({12, 8}) == 4);
  CHECK(beats_in_bar({7, 8}) == 7);
  CHECK(beats_in_bar({3, 8}) == 3);
  CHECK(beat_length({2, 2}) == Ticks{1920});
  CHECK(tempo_from_beats(60, {6, 8}) == tempo_from_bpm(90));
  CHECK(beats_per_minute(tempo_from_bpm(90), {6, 8}) == doctest::Approx(60));
  CHECK(beats_per_minute(tempo_from_bpm(90), {2, 2}) == doctest::Approx(45));
}

TEST_CASE("the bar and the chord in force at every tick") {
  const Form form = form_of("key: A\n| A | / D |\nmeter: 3/4\n| E / A | / |\n");
  REQUIRE(form.length == Ticks{2 * 3840 + 2 * 2880});
  for (Ticks tick{0}; tick < form.length; tick += Ticks{1}) {
    const Bar& bar = bar_at(form, tick);
    REQUIRE(bar.start <= tick);
    REQUIRE(tick < bar.start + bar_length(bar.meter));
    const ChordAt& chord = chord_at(form, tick);
    const std::string expected = tick < Ticks{4800}   ? "A"
                                 : tick < Ticks{7680} ? "D"
                                 : tick < Ticks{9600} ? "E"
                                                      : "A";
    REQUIRE(theory::ascii(*chord.chord) == expected);
  }
}

TEST_CASE("the next change is the next chord that differs, or the top") {
  const Form form = form_of("key: A\n| A | A / D / | / | D | A |");
  CHECK(next_change(form, Ticks{0}) == Ticks{3840 + 1920});
  CHECK(next_change(form, Ticks{5759}) == Ticks{5760});
  CHECK(next_change(form, Ticks{5760}) == Ticks{4 * 3840});
  CHECK(next_change(form, Ticks{4 * 3840}) == form.length);
  CHECK(next_change(form, form.length - Ticks{1}) == form.length);
}

TEST_CASE("a chord is fresh where its symbol differs from before, at the top, and after N.C.") {
  const Form form = form_of("key: A\n| A | A | A/C# | N.C. | A | / | A7 |");
  std::string fresh;
  for (const Bar& bar : form.bars)
    fresh += bar.chords.front().fresh ? "x" : "-";
  CHECK(fresh == "x-xxx-x");
  CHECK(form_of("key: A\n| N.C. | A |").bars[0].chords.front().fresh);
  CHECK_FALSE(form.bars[5].chords.front().written);
  CHECK(form.bars[1].chords.front().written);
}
