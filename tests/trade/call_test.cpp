#include "trade/call.hpp"
#include "trade/calls.hpp"
#include "trade/path.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <deque>
#include <set>

using namespace landfall;
using namespace landfall::trade;
using namespace landfall::trade::testing;

namespace {

constexpr std::uint64_t many = 1500;

const std::vector<std::pair<CallRequest, Phrase>>& many_calls() {
  static const auto calls = [] {
    std::vector<std::pair<CallRequest, Phrase>> result;
    for (std::uint64_t n = 0; n < many; ++n) {
      auto request = varied_request(n);
      auto call = make_call(request);
      result.emplace_back(std::move(request), std::move(call));
    }
    return result;
  }();
  return calls;
}

std::optional<theory::Chord> chord_of(const Phrase& call, const PhraseNote& note) {
  return call.chords[static_cast<std::size_t>(note.chord)].chord;
}

bool leads(const PhraseNote& note) {
  return note.role == PhraseRole::approach || note.role == PhraseRole::enclosure;
}

/// The spot of the note among what lies under the hand over its chord.
const Spot* spot_of(const std::vector<Spot>& spots, const PhraseNote& note) {
  const auto at = std::find_if(spots.begin(), spots.end(), [&](const Spot& spot) {
    return spot.midi == note.midi && spot.string == note.string && spot.fret == note.fret;
  });
  return at == spots.end() ? nullptr : &*at;
}

/// The spot of a note that lies either in the set or beside it.
const Spot* spot_of(const Ground& ground, const PhraseNote& note) {
  return spot_of(leads(note) ? ground.all : ground.notes, note);
}

} // namespace

TEST_CASE("calls lie under the hand, and in the set apart from declared notes") {
  for (const auto& [request, call] : many_calls()) {
    const auto seed = request.seed;
    CAPTURE(seed);
    for (const auto& note : call.notes) {
      const auto ground = ground_under(request.setting, chord_of(call, note));
      const auto* spot = spot_of(ground, note);
      REQUIRE(spot != nullptr);
      if (!leads(note))
        CHECK((spot->in_set || spot->landing));
    }
  }
}

TEST_CASE("calls land where they say: on a landing note, at the end and at changes") {
  int empty = 0;
  for (const auto& [request, call] : many_calls()) {
    const auto seed = request.seed;
    CAPTURE(seed);
    if (call.notes.empty()) {
      ++empty;
      continue;
    }
    CHECK(call.notes.back().role == PhraseRole::landing);
    for (const auto& note : call.notes) {
      const auto ground = ground_under(request.setting, chord_of(call, note));
      if (note.role == PhraseRole::landing) {
        const auto* spot = spot_of(ground.notes, note);
        REQUIRE(spot != nullptr);
        CHECK(spot->landing);
      }
      for (std::size_t k = 1; k < call.chords.size(); ++k)
        if (note.start == call.chords[k].at) {
          CHECK(note.role == PhraseRole::landing);
          CHECK(note.chord == static_cast<int>(k));
        }
    }
  }
  CHECK(empty == 0);
}

TEST_CASE("approach notes and enclosures lead by step into a landing") {
  int seen = 0;
  for (const auto& [request, call] : many_calls())
    for (std::size_t i = 0; i < call.notes.size(); ++i) {
      if (!leads(call.notes[i]))
        continue;
      ++seen;
      REQUIRE(i + 1 < call.notes.size());
      const auto& next = call.notes[i + 1];
      const int step = std::abs(next.midi - call.notes[i].midi);
      if (call.notes[i].role == PhraseRole::approach)
        CHECK((step == 1 && next.role == PhraseRole::landing));
      else
        CHECK((step <= 3 &&
               (next.role == PhraseRole::landing || next.role == PhraseRole::enclosure)));
    }
  CHECK(seen > 200);
}

TEST_CASE("no call is faster than its density allows, nor than the hand") {
  for (const auto& [request, call] : many_calls()) {
    const auto seed = request.seed;
    CAPTURE(seed);
    for (std::size_t i = 1; i < call.notes.size(); ++i) {
      const auto& a = call.notes[i - 1];
      const auto& b = call.notes[i];
      const auto gap = duration_of(b.start - a.start, request.tempo);
      CHECK(gap >= Nanoseconds{990'000'000 / request.density.fastest});
      const auto from = ground_under(request.setting, chord_of(call, a));
      const auto to = ground_under(request.setting, chord_of(call, b));
      CHECK(gap >= quickest(*spot_of(from, a), *spot_of(to, b)));
    }
  }
}

TEST_CASE(
    "calls keep to their bars: at most a beat of pick-up, one note at a time, no note beyond") {
  for (const auto& [request, call] : many_calls()) {
    const auto seed = request.seed;
    CAPTURE(seed);
    const auto beats = turn_beats(*request.form, request.bar, request.bars);
    for (std::size_t i = 0; i < call.notes.size(); ++i) {
      const auto& note = call.notes[i];
      CHECK(note.start >= -beats.front().pulse.length);
      CHECK(note.length > Ticks{});
      CHECK(note.start + note.length <= call.length);
      if (i + 1 < call.notes.size())
        CHECK(note.start + note.length <= call.notes[i + 1].start);
      CHECK((note.velocity >= 1 && note.velocity <= 127));
    }
  }
}

TEST_CASE("the same request gives the same call, another seed another") {
  int same = 0;
  for (std::uint64_t n = 0; n < 60; ++n) {
    auto request = varied_request(n);
    const auto call = make_call(request);
    CHECK(make_call(request) == call);
    request.seed += 1000;
    same += fingerprint(make_call(request)) == fingerprint(call) ? 1 : 0;
  }
  CHECK(same <= 3);
}

TEST_CASE("no call comes back within twenty, be the set ever so small") {
  const auto form = form_of("| A5 |", "A");
  CallRequest request;
  request.form = &form;
  request.bars = 1;
  request.setting = guitar_setting("A", "1 5", theory::Over::chord);
  request.density = plain_densities().front();
  request.tempo = tempo_from_bpm(80);
  std::deque<std::uint64_t> last;
  for (std::uint64_t n = 0; n < 200; ++n) {
    request.seed = n;
    const std::vector<std::uint64_t> recent(last.begin(), last.end());
    request.recent = recent;
    const auto mark = fingerprint(make_call(request));
    CHECK(std::find(recent.begin(), recent.end(), mark) == recent.end());
    last.push_back(mark);
    if (last.size() > calls_without_repeat)
      last.pop_front();
  }
}

TEST_CASE("a denser density has more notes, fills more of the turn and goes further out") {
  double notes[3]{}, filled[3]{}, outside[3]{};
  int calls[3]{};
  for (const auto& [request, call] : many_calls()) {
    if (call.notes.empty() || bpm(request.tempo) > 130)
      continue;
    const auto& name = request.density.name;
    const auto k = static_cast<std::size_t>(name == "sparse" ? 0 : name == "medium" ? 1 : 2);
    const auto beats = turn_beats(*request.form, request.bar, request.bars);
    ++calls[k];
    notes[k] += static_cast<double>(call.notes.size()) / static_cast<double>(beats.size());
    const auto& end = call.notes.back();
    filled[k] += static_cast<double>((end.start + end.length).count) /
                 static_cast<double>(call.length.count);
    outside[k] += static_cast<double>(std::count_if(call.notes.begin(), call.notes.end(), leads));
  }
  for (std::size_t k = 0; k < 3; ++k) {
    MESSAGE(plain_densities()[k].name, ": notes a beat of the turn ", notes[k] / calls[k],
            ", filled ", filled[k] / calls[k], ", leading notes a call ", outside[k] / calls[k]);
  }
  for (std::size_t k = 0; k < 2; ++k) {
    CHECK(notes[k] / calls[k] < 0.85 * notes[k + 1] / calls[k + 1]);
    CHECK(filled[k] / calls[k] < filled[k + 1] / calls[k + 1]);
    CHECK(outside[k] / calls[k] < outside[k + 1] / calls[k + 1]);
  }
  CHECK(outside[0] == 0.0);
}
