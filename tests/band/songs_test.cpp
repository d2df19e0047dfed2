#include "band/fixture.hpp"
#include "band/harmony.hpp"
#include "band/kit.hpp"
#include "band/voicing.hpp"
#include "band/walk.hpp"
#include "song/parser.hpp"
#include "song/songs_at_hand.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <utility>

using namespace landfall;
using namespace landfall::band;
using band::testing::request_for;
using band::testing::shipped;

namespace {

std::vector<song::Song> songs() {
  std::vector<song::Song> result;
  for (const auto& file : song::shipped_songs()) {
    auto song = song::parse_song(file.text);
    REQUIRE_MESSAGE(song, file.name);
    result.push_back(std::move(song).value());
  }
  return result;
}

song::Form in_feel(song::Form form, const std::string& feel) {
  form.feel = feel;
  for (auto& bar : form.bars)
    bar.feel = feel;
  return form;
}

bool in_register(const Event& event) {
  switch (event.part) {
  case Part::bass:
    return event.note >= lowest_bass && event.note <= highest_bass;
  case Part::comping:
    return event.note >= lowest_comping && event.note <= highest_comping;
  case Part::drums:
    return find_drum(event.note) != nullptr;
  default:
    return false;
  }
}

int overlaps(const std::vector<Event>& events) {
  std::map<std::pair<Part, int>, Ticks> sounding_to;
  int count = 0;
  for (const auto& event : events) {
    auto& end = sounding_to.try_emplace({event.part, event.note.number}, event.at).first->second;
    count += end > event.at ? 1 : 0;
    end = event.at + event.length;
  }
  return count;
}

bool may_comp(const Harmony& harmony, const Feel& feel, Ticks tick, theory::MidiNote note) {
  const auto& segment = harmony.at(std::max(tick, Ticks{0}));
  if (segment.chord == nullptr)
    return false;
  const auto tones = comping_tones(*segment.chord, segment.key, feel.colour);
  return std::find(tones.begin(), tones.end(), theory::pitch_class(note)) != tones.end();
}

bool rooted(const std::vector<Event>& events, const Segment& segment) {
  if (segment.chord == nullptr)
    return true;
  const auto root = segment.chord->bass ? *segment.chord->bass : segment.chord->root;
  return std::any_of(events.begin(), events.end(), [&](const Event& event) {
    return event.part == Part::bass && event.at > segment.from - quarter &&
           event.at <= segment.from + quarter * 3 / 2 &&
           theory::pitch_class(event.note) == theory::pitch_class(root);
  });
}

} // namespace

TEST_CASE("every shipped song names a feel that there is") {
  for (const auto& song : songs())
    for (const auto& bar : song::unroll(song).bars) {
      CAPTURE(bar.feel);
      CHECK(shipped().find(bar.feel) != nullptr);
    }
}

namespace {

/// A chorus of a song in a feel and key: within register, of the chord's tones, never twice the
/// same note at once, and with its roots in the bass. `turn` varies chorus and level.
void check_chorus(const song::Song& song, const std::string& name, theory::Key key, int turn) {
  const auto form = in_feel(song::unroll(song, key), name);
  const auto& feel = *shipped().find(name);
  CAPTURE(song.title);
  CAPTURE(name);
  CAPTURE(theory::ascii(key));
  const auto request = request_for(form, turn % 5, turn % 3 / 2.0, 3);
  const auto events = plan_chorus(request, shipped());
  const Harmony harmony(form, request.next);
  int foreign = 0, astray = 0, rootless = 0;
  for (const auto& event : events) {
    astray += in_register(event) ? 0 : 1;
    if (event.part == Part::comping)
      foreign += may_comp(harmony, feel, event.at, event.note) ||
                         may_comp(harmony, feel, event.at + quarter, event.note)
                     ? 0
                     : 1;
  }
  for (const auto& segment : harmony.segments())
    rootless += rooted(events, segment) ? 0 : 1;
  CHECK(astray == 0);
  CHECK(foreign == 0);
  CHECK(overlaps(events) == 0);
  CHECK(rootless == 0);
}

} // namespace

TEST_CASE("every song in every feel, through all keys, is playable and says its changes") {
  int turn = 0;
  for (const auto& song : songs())
    for (const auto& name : shipped().names()) {
      ++turn;
      check_chorus(song, name, theory::transposed(song.key, turn % 12), turn);
    }
}

TEST_CASE("every song in its own feel, and every feel over one song, are so in all twelve keys") {
  const auto all = songs();
  for (int key = 0; key < 12; ++key) {
    for (const auto& song : all)
      check_chorus(song, song.feel, theory::transposed(song.key, key), key);
    for (const auto& name : shipped().names())
      check_chorus(all.front(), name, theory::transposed(all.front().key, key), key + 1);
  }
}

TEST_CASE("a walking bass reaches every root by step, fifth or fourth") {
  for (const auto& song : songs())
    for (const int half_steps : {0, 4, 7}) {
      const auto form =
          in_feel(song::unroll(song, theory::transposed(song.key, half_steps)), "swing");
      const auto events = plan_chorus(request_for(form, half_steps), shipped());
      const Harmony harmony(form, &form);
      CAPTURE(song.title);
      const Segment* last = nullptr;
      for (const auto& segment : harmony.segments()) {
        const auto* before = std::exchange(last, &segment);
        if (before == nullptr || before->chord == nullptr || segment.chord == nullptr ||
            before->to - before->from < quarter * 2)
          continue;
        const Event* led = nullptr;
        const Event* root = nullptr;
        for (const auto& event : events)
          if (event.part == Part::bass && root == nullptr)
            (event.at < segment.from ? led : root) = &event;
        if (led == nullptr || root == nullptr || root->at != segment.from)
          continue;
        const int step = std::abs(led->note - root->note);
        CAPTURE(segment.from.count);
        CAPTURE(step);
        CHECK((step == 1 || step == 2 || step == 5 || step == 7));
      }
    }
}
