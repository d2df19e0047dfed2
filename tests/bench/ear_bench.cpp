#include "ear/judge.hpp"
#include "ear/players.hpp"
#include "ear/stage.hpp"
#include "ear/tracker.hpp"

#include <chrono>
#include <cstdio>

// Prints JSON: microseconds a note, tracked and judged. Nothing is asserted.

using namespace landfall;
using namespace landfall::test;

namespace {

double micros_since(std::chrono::steady_clock::time_point start) {
  const std::chrono::duration<double, std::micro> took = std::chrono::steady_clock::now() - start;
  return took.count();
}

std::vector<ear::Event> scale_in_sixteenths(Ticks end, bool bends) {
  std::vector<ear::Event> events;
  int i = 0;
  for (Ticks at; at < end; at += sixteenth, ++i) {
    const int midi = 57 + (i * 5) % 24;
    events.push_back(ear::NoteOn{at, 0, midi, 90, std::nullopt});
    for (int k = 0; bends && k < 12; ++k)
      events.push_back(ear::Bend{at + Ticks{k * 15}, 0, k < 6 ? k * 20.0 : (12 - k) * 20.0});
    events.push_back(ear::NoteOff{at + sixteenth * 9 / 10, 0, midi});
  }
  return events;
}

struct Figures {
  double track, judge, live;
};

Figures measured(const practice::Timeline& timeline, const ear::Ground& ground, bool bends) {
  const auto end = ground.spans.back().to;
  const auto events = scale_in_sixteenths(end, bends);
  const double notes = static_cast<double>(end.count / sixteenth.count);
  Figures figures{};
  auto start = std::chrono::steady_clock::now();
  const auto played = heard(events);
  figures.track = micros_since(start) / notes;
  start = std::chrono::steady_clock::now();
  const auto judgement = ear::judge(ground, played, {});
  figures.judge = micros_since(start) / notes;
  practice::GroundBuilder builder({&guitar(), nullptr, nullptr});
  ear::Tracker tracker;
  ear::LiveJudge live;
  auto next = events.begin();
  start = std::chrono::steady_clock::now();
  for (Ticks now; now < end; now += Ticks{32}) { // 60 frames a second
    for (;
         next != events.end() && std::visit([](const auto& each) { return each.at; }, *next) < now;
         ++next)
      tracker.take(*next);
    builder.extend(timeline, now);
    live.advance(builder.ground(), tracker.notes(), now);
    tracker.forget_before(now - quarter * 32, 64);
  }
  figures.live = micros_since(start) / static_cast<double>(end.count / 32);
  if (judgement.notes.empty() || live.changes().empty())
    std::puts("nothing was judged");
  return figures;
}

} // namespace

int main() {
  const Stage stage{.chart = "A D | E A7 | D E | A | F#m Bm | E7 | A | E", .bars = 256};
  const auto timeline = timeline_of(stage);
  auto start = std::chrono::steady_clock::now();
  const auto ground = ground_of(stage);
  const double laid = micros_since(start);
  const auto plain = measured(timeline, ground, false), bent = measured(timeline, ground, true);
  std::printf("{\"ground_us_a_bar\":%.1f,\"track_us_a_note\":%.3f,\"judge_us_a_note\":%.3f,"
              "\"live_us_a_frame\":%.2f,\"bent\":{\"track_us_a_note\":%.3f,"
              "\"judge_us_a_note\":%.3f,\"live_us_a_frame\":%.2f}}\n",
              laid / 256, plain.track, plain.judge, plain.live, bent.track, bent.judge, bent.live);
}
