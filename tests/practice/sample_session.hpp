#pragma once

#include "practice/session.hpp"
#include "song/parser.hpp"

#include <doctest/doctest.h>

#include <algorithm>

/// Sessions of short progressions, played without a clock.
namespace landfall::test {

struct PlainFeels final : band::FeelBook {
  const band::Feel* find(std::string_view) const override { return &band::plain_feel(); }
};

inline practice::Session::Setup setup_for(const char* progression) {
  practice::Session::Setup setup;
  auto song = song::parse_progression(progression);
  REQUIRE(song);
  setup.song = std::make_shared<const song::Song>(*song);
  setup.feels = std::make_shared<PlainFeels>();
  setup.choice.key = song->key;
  setup.choice.tempo = song->tempo;
  return setup;
}

/// What a sender would have of the plans: each replaces what lies at or after its start.
inline std::vector<band::Event> played(const std::vector<practice::Plan>& plans) {
  std::vector<band::Event> events;
  for (const auto& plan : plans) {
    std::erase_if(events, [&](const band::Event& event) { return event.at >= plan.from; });
    events.insert(events.end(), plan.events.begin(), plan.events.end());
  }
  std::stable_sort(events.begin(), events.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  return events;
}

/// Goes on from `from` to `to`; what was planned.
inline std::vector<practice::Plan> play(practice::Session& session, Ticks from, Ticks to) {
  std::vector<practice::Plan> all = session.take_plans();
  for (Ticks now = from; now < to; now += {100}) {
    session.advance(now);
    for (auto& plan : session.take_plans())
      all.push_back(std::move(plan));
  }
  return all;
}

inline void append(std::vector<practice::Plan>& all, std::vector<practice::Plan> more) {
  for (auto& plan : more)
    all.push_back(std::move(plan));
}

inline constexpr Ticks bar{3840};

} // namespace landfall::test
