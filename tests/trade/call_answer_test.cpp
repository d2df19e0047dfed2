#include "trade/call_answer.hpp"
#include "trade/calls.hpp"
#include "trade/path.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::trade;
using namespace landfall::trade::testing;

namespace {

Phrase call_over(const song::Form& form, const neck::Setting& setting, int bar,
                 std::uint64_t seed) {
  CallRequest request;
  request.form = &form;
  request.bar = bar;
  request.bars = 2;
  request.setting = setting;
  request.density = plain_densities()[1];
  request.tempo = tempo_from_bpm(100);
  request.seed = seed;
  return make_call(request);
}

std::vector<int> pitches(const Phrase& phrase) {
  std::vector<int> result;
  for (const auto& note : phrase.notes)
    result.push_back(note.midi.number);
  return result;
}

bool inside(const neck::Setting& setting, const Phrase& phrase, const PhraseNote& note) {
  const auto ground =
      ground_under(setting, phrase.chords[static_cast<std::size_t>(note.chord)].chord);
  const auto here = [&](const Spot& spot) {
    return spot.midi == note.midi && spot.string == note.string && spot.fret == note.fret;
  };
  return std::any_of(ground.notes.begin(), ground.notes.end(), here) ||
         std::any_of(ground.all.begin(), ground.all.end(), here);
}

} // namespace

TEST_CASE("where the answer bars carry the same chords, an echo has the same notes") {
  const auto form = form_of("| A | D | A | D |", "A");
  const auto setting = guitar_setting("A", "major pentatonic", theory::Over::chord);
  for (std::uint64_t seed = 0; seed < 30; ++seed) {
    const auto call = call_over(form, setting, 1, seed);
    CHECK(answer_for(call, blank_phrase(form, 3, 2), setting).notes == call.notes);
  }
}

TEST_CASE("over other chords an echo keeps rhythm, roles and degrees, and stays under the hand") {
  const auto form = form_of("| A7 | A7 | D7 | D7 |", "A");
  const auto setting = guitar_setting("A", "arpeggio", theory::Over::chord);
  for (std::uint64_t seed = 0; seed < 30; ++seed) {
    const auto call = call_over(form, setting, 1, seed);
    const auto echo = answer_for(call, blank_phrase(form, 3, 2), setting);
    REQUIRE(echo.notes.size() == call.notes.size());
    for (std::size_t i = 0; i < call.notes.size(); ++i) {
      CHECK(echo.notes[i].start == call.notes[i].start);
      CHECK(echo.notes[i].role == call.notes[i].role);
      CHECK(inside(setting, echo, echo.notes[i]));
      if (call.notes[i].role == PhraseRole::landing || call.notes[i].role == PhraseRole::set)
        CHECK(echo.notes[i].degree == call.notes[i].degree);
    }
  }
}

TEST_CASE("a third stays a third: minor over a minor chord") {
  const auto form = form_of("| A | A | Dm | Dm |", "A");
  const auto setting = guitar_setting("A", "arpeggio", theory::Over::chord);
  int thirds = 0;
  for (std::uint64_t seed = 0; seed < 30; ++seed) {
    const auto call = call_over(form, setting, 1, seed);
    const auto echo = answer_for(call, blank_phrase(form, 3, 2), setting);
    for (std::size_t i = 0; i < call.notes.size(); ++i)
      if (ascii(call.notes[i].degree) == "3" && call.notes[i].role != PhraseRole::approach &&
          call.notes[i].role != PhraseRole::enclosure) {
        ++thirds;
        CHECK(ascii(echo.notes[i].degree) == "b3");
      }
  }
  CHECK(thirds > 20);
}

TEST_CASE(
    "in another key an echo has the same degrees; in another place the same notes or octaves") {
  const auto form = form_of("| A | D |", "A");
  const auto higher = form_of("| C | F |", "C");
  const auto setting = guitar_setting("A", "major pentatonic", theory::Over::chord);
  const auto in_c = guitar_setting("C", "major pentatonic", theory::Over::chord);
  auto other_place = setting;
  other_place.home = neck::find_position(*setting.instrument, setting.key, {.shape = 'C'}).value();
  for (std::uint64_t seed = 0; seed < 30; ++seed) {
    const auto call = call_over(form, setting, 1, seed);
    const auto moved = answer_for(call, blank_phrase(higher, 1, 2), in_c);
    for (std::size_t i = 0; i < call.notes.size(); ++i) {
      CHECK((moved.notes[i].midi - call.notes[i].midi - 3) % 12 == 0);
      CHECK(inside(in_c, moved, moved.notes[i]));
    }
    const auto there = answer_for(call, blank_phrase(form, 1, 2), other_place);
    for (std::size_t i = 0; i < call.notes.size(); ++i) {
      CHECK((there.notes[i].midi - call.notes[i].midi) % 12 == 0);
      CHECK(inside(other_place, there, there.notes[i]));
    }
  }
}

TEST_CASE("an easier call has fewer notes, all of them the call's, and the same landings") {
  for (std::uint64_t n = 0; n < 100; ++n) {
    const auto call = make_call(varied_request(n));
    const auto less = easier(call);
    CHECK(less.notes.size() <= call.notes.size());
    const auto landings = [](const Phrase& phrase) {
      return std::count_if(phrase.notes.begin(), phrase.notes.end(),
                           [](const PhraseNote& note) { return note.role == PhraseRole::landing; });
    };
    CHECK(landings(less) == landings(call));
    const auto all = pitches(call), some = pitches(less);
    std::size_t at = 0;
    for (const int pitch : some) {
      while (at < all.size() && all[at] != pitch)
        ++at;
      CHECK(at < all.size());
      ++at;
    }
    for (std::size_t i = 0; i + 1 < less.notes.size(); ++i)
      CHECK(less.notes[i].start + less.notes[i].length <= less.notes[i + 1].start);
  }
}

TEST_CASE("any call can be moved anywhere: to other songs, instruments and sets") {
  for (std::uint64_t n = 0; n < 200; ++n) {
    const auto from = varied_request(n), to = varied_request(n + 5000);
    const auto call = make_call(from);
    const auto moved = answer_for(call, blank_phrase(*to.form, to.bar, from.bars), to.setting);
    CHECK(moved.notes.size() == call.notes.size());
    for (const auto& note : moved.notes) {
      CHECK((note.midi.number >= 0 && note.midi.number <= 127));
      CHECK(inside(to.setting, moved, note));
    }
  }
}
