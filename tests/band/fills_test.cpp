#include "band/fixture.hpp"

#include <doctest/doctest.h>

#include <set>

using namespace landfall;
using namespace landfall::band;
using band::testing::form_of;
using band::testing::request_for;
using band::testing::shipped;

namespace {

Feel without_fills(Feel feel) {
  std::erase_if(feel.drums, [](const DrumPattern& pattern) { return pattern.role == Role::fill; });
  return feel;
}

std::vector<Event> drums_of_bar(const std::vector<Event>& events, const song::Bar& bar) {
  std::vector<Event> result;
  for (auto event : events)
    if (event.part == Part::drums && event.at >= bar.start &&
        event.at < bar.start + song::bar_length(bar.meter)) {
      event.at -= bar.start;
      event.length = {1}; // cut by whatever follows
      result.push_back(event);
    }
  return result;
}

const char* const sections = "A | D | A | E | ! D | D | A | A | ! B7 | E7 | A | E";

} // namespace

TEST_CASE("fills stand in the last bar of a section, openings in the first, nothing elsewhere") {
  for (const auto& name : shipped().names())
    for (const double intensity : {0.1, 0.5, 0.9}) {
      CAPTURE(name);
      CAPTURE(intensity);
      const auto form = form_of(sections, "A", name);
      band::testing::Book bare;
      auto feel = without_fills(*shipped().find(name));
      feel.opening.reset();
      bare.add(feel);
      const auto with = plan_chorus(request_for(form, 1, intensity), shipped());
      const auto without = plan_chorus(request_for(form, 1, intensity), bare);
      for (const auto& bar : form.bars) {
        CAPTURE(bar.number);
        const bool same = drums_of_bar(with, bar) == drums_of_bar(without, bar);
        const bool last = bar.number % 4 == 0;
        const bool first = bar.number % 4 == 1;
        if (last)
          CHECK_FALSE(same);
        else if (!first)
          CHECK(same);
      }
    }
}

TEST_CASE("fills of neighbouring sections and choruses differ") {
  for (const auto& name : shipped().names())
    for (const double intensity : {0.1, 0.5, 0.9}) {
      CAPTURE(name);
      CAPTURE(intensity);
      const auto form = form_of(sections, "A", name);
      std::vector<std::vector<Event>> all;
      for (int chorus = 0; chorus < 4; ++chorus) {
        const auto events = plan_chorus(request_for(form, chorus, intensity), shipped());
        for (const int number : {4, 8, 12})
          all.push_back(drums_of_bar(events, form.bars[static_cast<std::size_t>(number - 1)]));
      }
      for (std::size_t i = 1; i < all.size(); ++i)
        CHECK(all[i] != all[i - 1]);
    }
}

TEST_CASE("a short loop has a fill every eight bars, not at every turn") {
  band::testing::Book bare;
  bare.add(without_fills(*shipped().find("straight-eighths")));
  for (const char* changes : {"A", "A | E", "A | D | E", "A | D | A | E"}) {
    CAPTURE(changes);
    const auto form = form_of(changes, "A", "straight-eighths");
    int fills = 0;
    int bars = 0;
    for (int chorus = 0; bars < 48; ++chorus, bars += static_cast<int>(form.bars.size()))
      fills += plan_chorus(request_for(form, chorus), shipped()) ==
                       plan_chorus(request_for(form, chorus), bare)
                   ? 0
                   : 1;
    CHECK(fills == 6);
  }
}

TEST_CASE("a loop of one bar goes through its patterns as one of four does") {
  const auto one = form_of("A", "A", "straight-eighths");
  const auto four = form_of("A | A | A | A", "A", "straight-eighths");
  const auto whole = plan_chorus(request_for(four, 0), shipped());
  for (int chorus = 0; chorus < 4; ++chorus)
    CHECK(drums_of_bar(plan_chorus(request_for(one, chorus), shipped()), one.bars.front()) ==
          drums_of_bar(whole, four.bars[static_cast<std::size_t>(chorus)]));
}

TEST_CASE("no two feels, nor two levels of one, share an onset pattern") {
  std::set<std::vector<std::pair<std::int64_t, int>>> seen;
  for (const auto& name : shipped().names())
    for (const double intensity : {0.1, 0.5, 0.9}) {
      CAPTURE(name);
      CAPTURE(intensity);
      const auto form = form_of("C | C | C | C", "C", name, shipped().find(name)->meter);
      for (const int chorus : {0, 1}) {
        std::set<std::pair<std::int64_t, int>> onsets;
        for (const auto& event : plan_chorus(request_for(form, chorus, intensity), shipped()))
          if (event.at < form.bars.back().start)
            onsets.emplace(event.at.count, static_cast<int>(event.part));
        CHECK(seen.emplace(onsets.begin(), onsets.end()).second);
      }
    }
}
