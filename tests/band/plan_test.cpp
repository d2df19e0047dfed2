#include "band/fixture.hpp"
#include "band/harmony.hpp"
#include "band/kit.hpp"
#include "band/pulse.hpp"
#include "band/voicing.hpp"
#include "band/walk.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <functional>
#include <map>
#include <tuple>

using namespace landfall;
using namespace landfall::band;
using band::testing::form_of;
using band::testing::request_for;
using band::testing::shipped;

namespace {

/// Runs a check over every feel, form, chorus, intensity and a few seeds.
void over_all(
    const std::function<void(const Request&, const Feel&, const std::vector<Event>&)>& check) {
  auto names = shipped().names();
  names.push_back("no such feel");
  for (const auto& name : names)
    for (const auto& form : band::testing::forms(name))
      for (const double intensity : {0.0, 0.5, 1.0})
        for (const int chorus : {0, 1, 2})
          for (const std::uint64_t seed : {1u, 77u}) {
            auto request = request_for(form, chorus, intensity, seed);
            request.humanised = seed == 77 && chorus == 1;
            request.ending = chorus == 2;
            if (request.ending)
              request.next = nullptr;
            CAPTURE(name);
            CAPTURE(form.bars.front().chords.front().chord->root.letter);
            CAPTURE(form.bars.front().meter.beats);
            CAPTURE(intensity);
            CAPTURE(chorus);
            CAPTURE(seed);
            const auto* feel = shipped().find(name);
            check(request, feel == nullptr ? plain_feel() : *feel, plan_chorus(request, shipped()));
          }
}

std::vector<Event> only(const std::vector<Event>& events, Part part) {
  std::vector<Event> result;
  std::copy_if(events.begin(), events.end(), std::back_inserter(result),
               [&](const Event& event) { return event.part == part; });
  return result;
}

} // namespace

TEST_CASE("plans are sorted, in range and free of overlaps") {
  over_all([](const Request& request, const Feel&, const std::vector<Event>& events) {
    REQUIRE_FALSE(events.empty());
    const Ticks bar = song::bar_length(request.form->bars.front().meter);
    std::map<std::pair<Part, int>, Ticks> sounding_to;
    const Event* before = nullptr;
    int wrong = 0;
    for (const auto& event : events) {
      if (before != nullptr)
        wrong += std::tuple(before->at, before->part, before->note) <
                         std::tuple(event.at, event.part, event.note)
                     ? 0
                     : 1;
      before = &event;
      wrong += event.at >= -bar && event.at < request.form->length ? 0 : 1;
      wrong += event.length > Ticks{0} ? 0 : 1;
      wrong += event.at + event.length <= request.form->length ? 0 : 1;
      wrong += event.velocity >= 1 && event.velocity <= 127 ? 0 : 1;
      const auto key = std::pair(event.part, event.note.number);
      const auto last = sounding_to.find(key);
      wrong += last == sounding_to.end() || last->second <= event.at ? 0 : 1;
      sounding_to[key] = event.at + event.length;
    }
    CHECK(wrong == 0);
  });
}

TEST_CASE("every part keeps to its register, drums to the kit") {
  over_all([](const Request&, const Feel&, const std::vector<Event>& events) {
    int outside = 0;
    for (const auto& event : events) {
      if (event.part == Part::bass)
        outside += event.note < lowest_bass || event.note > highest_bass ? 1 : 0;
      if (event.part == Part::comping)
        outside += event.note < lowest_comping || event.note > highest_comping ? 1 : 0;
      if (event.part == Part::drums)
        outside += find_drum(event.note) == nullptr ? 1 : 0;
      outside += event.part == Part::click ? 1 : 0;
    }
    CHECK(outside == 0);
  });
}

TEST_CASE("equal requests give equal plans, other seeds and choruses others") {
  int same_seed = 0;
  int same_chorus = 0;
  int plans = 0;
  for (const auto& name : shipped().names()) {
    const auto form = form_of("Dm7 | G7 | C6 | A7 | Dm7 | G7 | C6 | %", "C", name);
    const auto plan = plan_chorus(request_for(form, 0), shipped());
    CHECK(plan == plan_chorus(request_for(form, 0), shipped()));
    CHECK(plan != plan_chorus(request_for(form, 1), shipped()));
    for (std::uint64_t seed = 2; seed < 8; ++seed) {
      same_seed += plan == plan_chorus(request_for(form, 0, 0.5, seed), shipped()) ? 1 : 0;
      same_chorus +=
          plan == plan_chorus(request_for(form, static_cast<int>(seed)), shipped()) ? 1 : 0;
      ++plans;
    }
  }
  CHECK(same_seed * 4 < plans);
  CHECK(same_chorus * 4 < plans);
}

TEST_CASE("the bass has the root, or the slash bass, at or within a beat of every change") {
  over_all([](const Request& request, const Feel&, const std::vector<Event>& events) {
    if (request.ending || request.humanised)
      return;
    const auto bass = only(events, Part::bass);
    const Harmony harmony(*request.form, request.next);
    for (const auto& segment : harmony.segments()) {
      if (segment.chord == nullptr)
        continue;
      const auto root = segment.chord->bass ? *segment.chord->bass : segment.chord->root;
      const auto found = std::any_of(bass.begin(), bass.end(), [&](const Event& event) {
        return event.at > segment.from - quarter && event.at <= segment.from + quarter * 3 / 2 &&
               theory::pitch_class(event.note) == theory::pitch_class(root);
      });
      CAPTURE(segment.from.count);
      CHECK(found);
    }
  });
}

TEST_CASE("the bass never leaps beyond an octave") {
  over_all([](const Request&, const Feel&, const std::vector<Event>& events) {
    const auto bass = only(events, Part::bass);
    int leaps = 0;
    for (std::size_t i = 1; i < bass.size(); ++i)
      leaps += std::abs(bass[i].note - bass[i - 1].note) > 12 ? 1 : 0;
    CHECK(leaps == 0);
  });
}

TEST_CASE("comping sounds only tones of the chord in force and declared extensions") {
  over_all([](const Request& request, const Feel& feel, const std::vector<Event>& events) {
    if (request.ending || request.humanised)
      return;
    const Harmony harmony(*request.form, request.next);
    int foreign = 0;
    for (const auto& event : only(events, Part::comping)) {
      const auto allowed = [&](Ticks tick) {
        const auto& segment = harmony.at(tick);
        if (segment.chord == nullptr)
          return false;
        const auto tones = comping_tones(*segment.chord, segment.key, feel.colour);
        return std::find(tones.begin(), tones.end(), theory::pitch_class(event.note)) !=
               tones.end();
      };
      // a push sounds the chord of the next pulse
      const bool now = allowed(std::max(event.at, Ticks{0}));
      foreign += now || allowed(event.at + quarter) ? 0 : 1;
    }
    CHECK(foreign == 0);
  });
}

TEST_CASE("every chord is heard, with its guide tones") {
  over_all([](const Request& request, const Feel&, const std::vector<Event>& events) {
    if (request.ending || request.humanised)
      return;
    const auto comping = only(events, Part::comping);
    const Harmony harmony(*request.form, request.next);
    for (const auto& segment : harmony.segments()) {
      if (segment.chord == nullptr)
        continue;
      CAPTURE(segment.from.count);
      for (const auto degree : theory::guide_tones(*segment.chord)) {
        const int tone =
            (theory::pitch_class(segment.chord->root) + theory::pitch_class(degree)) % 12;
        CHECK(std::any_of(comping.begin(), comping.end(), [&](const Event& event) {
          return event.at < segment.to && event.at + event.length > segment.from &&
                 theory::pitch_class(event.note) == tone;
        }));
      }
    }
  });
}

TEST_CASE("voices lead: whole chords move by about a whole step a voice on average") {
  over_all([](const Request& request, const Feel&, const std::vector<Event>& events) {
    if (request.humanised)
      return;
    std::map<Ticks, Voicing> struck;
    for (const auto& event : only(events, Part::comping))
      struck[event.at].push_back(event.note);
    const Harmony harmony(*request.form, request.next);
    std::map<Ticks, Voicing> fullest; // of each chord
    for (const auto& [at, voicing] : struck) {
      auto& best = fullest[harmony.at(at).from];
      if (voicing.size() > best.size())
        best = voicing;
    }
    int moved = 0;
    int voices = 0;
    const Voicing* before = nullptr;
    for (const auto& [from, voicing] : fullest) {
      if (voicing.size() < 3)
        continue; // broken chords
      if (before != nullptr) {
        moved += motion(*before, voicing);
        voices += static_cast<int>(voicing.size());
      }
      before = &voicing;
    }
    CHECK(4 * moved <= 9 * voices);
  });
}

TEST_CASE("N.C. leaves time and one hit, and the band comes back") {
  for (const auto& name : shipped().names()) {
    CAPTURE(name);
    const auto form = form_of("C | NC | F | NC G", "C", name);
    const Ticks bar = song::bar_length({4, 4});
    const auto events = plan_chorus(request_for(form), shipped());
    int hits = 0;
    for (const auto& event : events) {
      if (event.at < bar || event.at >= bar * 2)
        continue;
      const auto* drum = find_drum(event.note);
      if (event.part == Part::drums && drum != nullptr && !drum->time)
        ++hits;
      if (event.part != Part::drums)
        CHECK(event.at >= bar * 2 - quarter); // a push into the next chord
    }
    CHECK(hits == 1);
    for (const auto part : {Part::bass, Part::comping})
      CHECK(std::any_of(events.begin(), events.end(), [&](const Event& event) {
        return event.part == part && event.at + event.length > bar * 2 && event.at < bar * 3;
      }));
  }
}

TEST_CASE("an ending comes home and stops") {
  for (const auto& name : shipped().names())
    for (const double intensity : {0.1, 0.5, 0.9}) {
      CAPTURE(name);
      const auto form = form_of("A7 | D7 | A7 | E7", "A", name);
      auto request = request_for(form, 2, intensity);
      request.next = nullptr;
      request.ending = true;
      const auto events = plan_chorus(request, shipped());
      const auto bass = only(events, Part::bass);
      const auto comping = only(events, Part::comping);
      REQUIRE_FALSE(bass.empty());
      REQUIRE_FALSE(comping.empty());
      CHECK(theory::pitch_class(bass.back().note) == 9);
      Ticks last{0};
      for (const auto& event : comping)
        last = std::max(last, event.at);
      for (const auto& event : comping)
        if (event.at == last)
          CHECK(theory::degree_in(*theory::parse_chord("A13"), theory::pitch_class(event.note)));
      request.ending = false;
      CHECK(plan_chorus(request, shipped()) != events);
    }
}

TEST_CASE("space bars keep the band playing") {
  auto form = form_of("A | D | E | A", "A", "straight-eighths");
  const auto plan = plan_chorus(request_for(form), shipped());
  form.bars[2].space = true;
  CHECK(plan_chorus(request_for(form), shipped()) == plan);
}

TEST_CASE("a feel that changes within the song is followed") {
  auto form = form_of("A | A | A | A", "A", "straight-eighths");
  const auto straight = plan_chorus(request_for(form), shipped());
  form.bars[2].feel = form.bars[3].feel = "swing";
  const auto mixed = plan_chorus(request_for(form), shipped());
  const Ticks third = form.bars[2].start;
  const auto drums_before = [&](const std::vector<Event>& events) {
    std::vector<Event> result;
    for (const auto& event : only(events, Part::drums))
      if (event.at < third)
        result.push_back(event);
    return result;
  };
  CHECK(drums_before(straight) == drums_before(mixed));
  CHECK(straight != mixed);
}

TEST_CASE("full is louder than quiet in every feel") {
  for (const auto& name : shipped().names()) {
    CAPTURE(name);
    const auto form = form_of("A | D | E | A", "A", name);
    const auto loudness = [&](double intensity) {
      int sum = 0;
      for (const auto& event : plan_chorus(request_for(form, 0, intensity), shipped()))
        sum += event.velocity;
      return sum;
    };
    CHECK(loudness(0.0) < loudness(0.5));
    CHECK(loudness(0.5) < loudness(1.0));
  }
}
