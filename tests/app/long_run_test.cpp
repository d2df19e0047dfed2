// Ten hours of a session and its sender, on a clock moved by hand.

#include "app/chunks.hpp"
#include "app/library.hpp"
#include "midi/sender_core.hpp"
#include "song/parser.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <deque>
#include <memory>
#include <tuple>
#include <vector>

#if defined(__GLIBC__) && __GLIBC_PREREQ(2, 33)
#include <malloc.h>
#define LANDFALL_COUNTS_MEMORY
#endif

using namespace landfall;
using std::chrono::hours;

namespace {

const TimePoint origin{Nanoseconds{123'456'789'012'347}};

/// Bytes that are allocated; 0 where nobody counts.
std::size_t allocated() {
#ifdef LANDFALL_COUNTS_MEMORY
  return mallinfo2().uordblks;
#else
  return 0;
#endif
}

/// The time of each tick by the session's tempi alone, not rounded anywhere.
class ExactTime {
public:
  ExactTime(const practice::Session& session, Ticks first, TimePoint start)
      : session_(session), tick_(first), tempo_(session.timeline().tempo_at(first)),
        ns_(static_cast<long double>(start.time_since_epoch().count())) {}

  /// For ticks that never go back.
  long double at(Ticks tick) {
    for (auto next = session_.timeline().tempo_after(tick_); next && next->first <= tick;
         next = session_.timeline().tempo_after(tick_)) {
      ns_ = line(next->first);
      std::tie(tick_, tempo_) = *next;
    }
    return line(tick);
  }

private:
  long double line(Ticks tick) const {
    const auto quarters = static_cast<long double>((tick - tick_).count) / 960;
    return ns_ + quarters * static_cast<long double>(tempo_.micros_per_quarter) * 1000;
  }

  const practice::Session& session_;
  Ticks tick_;
  Tempo tempo_;
  long double ns_;
};

using Struck = std::tuple<Ticks, int, int>; ///< When, on which channel, which note.

/// Looks at each message as it comes and keeps the note-ons until they are asked for.
class Scales final : public midi::Output {
public:
  void send(std::span<const std::uint8_t> bytes, TimePoint due) noexcept override {
    midi::ShortMessage message;
    message.size = static_cast<std::uint8_t>(bytes.size());
    std::copy(bytes.begin(), bytes.end(), message.bytes.begin());
    const auto tick = line.tick_at(due);
    off_tick += line.time_at(tick) == due ? 0 : 1;
    const auto error =
        std::abs(exact->at(tick) - static_cast<long double>(due.time_since_epoch().count()));
    worst_ns = std::max(worst_ns, error);
    ++messages;
    sounding += midi::is_note_on(message) ? 1 : midi::is_note_off(message) ? -1 : 0;
    if (midi::is_note_on(message))
      struck.emplace_back(tick, midi::channel_of(message), midi::note_of(message));
  }

  Transport line;
  ExactTime* exact = nullptr;
  std::vector<Struck> struck;
  long messages = 0, off_tick = 0, sounding = 0;
  long double worst_ns = 0;
};

/// The note-ons of all plans, each until it is due or replaced.
class Expected {
public:
  void take(const midi::Chunk& chunk) {
    for (auto& plan : plans_)
      std::erase_if(plan.notes, [&](const Struck& note) {
        return plan.from >= chunk.from || std::get<0>(note) >= chunk.from;
      });
    std::erase_if(plans_, [](const Plan& plan) { return plan.notes.empty(); });
    Plan plan{chunk.from, {}};
    for (const auto& planned : chunk.messages)
      if (midi::is_note_on(planned.message))
        plan.notes.emplace_back(planned.at, midi::channel_of(planned.message),
                                midi::note_of(planned.message));
    plans_.push_back(std::move(plan));
  }

  std::vector<Struck> due(const Transport& line, TimePoint now) {
    std::vector<Struck> found;
    for (auto& plan : plans_)
      std::erase_if(plan.notes, [&](const Struck& note) {
        const bool is_due = line.time_at(std::get<0>(note)) <= now;
        if (is_due)
          found.push_back(note);
        return is_due;
      });
    return found;
  }

private:
  struct Plan {
    Ticks from;
    std::vector<Struck> notes;
  };
  std::deque<Plan> plans_;
};

/// What the conductor and a sender's thread do, without threads.
class Rig {
public:
  explicit Rig(practice::Session::Setup setup) : session_(setup), setup_(std::move(setup)) {
    session_.start();
    const auto first = -session_.timeline().count_in;
    exact_ = std::make_unique<ExactTime>(session_, first, origin);
    output_.exact = exact_.get();
    publish({true, first, origin, session_.timeline().tempo_at(first), false, {}, {}});
    hand_over();
  }
  ~Rig() {
    core_.finish(now_);
    free_retired();
  }
  Rig(const Rig&) = delete;
  Rig& operator=(const Rig&) = delete;

  void run_to(TimePoint end) {
    constexpr auto pulse = std::chrono::milliseconds{500};
    for (TimePoint plan_at = now_; now_ < end;) {
      const auto next = core_.step(now_);
      now_ = std::min(next, plan_at);
      if (now_ < plan_at)
        continue;
      core_.step(now_);
      compare();
      plan();
      plan_at += pulse;
    }
  }

  void set_tempo(double bpm) {
    session_.apply(practice::SetTempo{tempo_from_bpm(bpm)},
                   output_.line.tick_at(now_ + std::chrono::milliseconds{30}) + Ticks{1});
    plan();
  }

  const Scales& output() const { return output_; }
  long wrong() const { return wrong_; }
  std::size_t sounding() const { return core_.sounding(); }

private:
  void publish(const Transport& line) {
    output_.line = line;
    transport_.publish(line);
  }

  void plan() {
    const auto here = output_.line.tick_at(now_);
    session_.advance(here);
    hand_over();
    auto line = output_.line.settled(here);
    if (const auto next = session_.timeline().tempo_after(std::max(here, line.anchor_tick)))
      line = line.with_tempo(next->first, next->second);
    publish(line);
  }

  void hand_over() {
    free_retired();
    for (const auto& plan : session_.take_plans()) {
      auto chunk =
          std::make_unique<midi::Chunk>(app::chunk_of(plan, *setup_.feels->find(plan.feel)));
      expected_.take(*chunk);
      REQUIRE(links_.chunks.push({chunk.release(), 0}));
    }
  }

  void free_retired() {
    const midi::Chunk* chunk = nullptr;
    while (links_.retired.pop(chunk))
      delete chunk;
  }

  void compare() {
    auto expected = expected_.due(output_.line, now_);
    std::sort(expected.begin(), expected.end());
    std::sort(output_.struck.begin(), output_.struck.end());
    wrong_ += expected == output_.struck ? 0 : 1;
    output_.struck.clear();
  }

  practice::Session session_;
  practice::Session::Setup setup_;
  std::unique_ptr<ExactTime> exact_;
  Scales output_;
  Expected expected_;
  midi::SenderLinks links_{64};
  midi::Latest<Transport> transport_;
  midi::SenderCore core_{output_, links_, transport_};
  TimePoint now_ = origin;
  long wrong_ = 0;
};

practice::Session::Setup twelve_bars() {
  practice::Session::Setup setup;
  std::vector<std::string> problems;
  setup.feels = app::FeelFolder::load(problems);
  const auto song = song::parse_progression(
      "A7 | D7 | A7 | A7 | D7 | D7 | A7 | F#7 | Bm7 | E7 | A7 F#7 | Bm7 E7");
  REQUIRE(song);
  setup.song = std::make_shared<const song::Song>(*song);
  setup.choice.key = song->key;
  setup.choice.tempo = song->tempo;
  return setup;
}

} // namespace

TEST_CASE(
    "ten hours of session and sender, with a new tempo every few minutes: each event is at its "
    "exact time, none is missing, and memory stays flat") {
  Rig rig(twelve_bars());
  std::size_t after_first_hour = 0, after_last = 0;
  for (int turn = 1; turn <= 100; ++turn) { // of six minutes
    rig.run_to(origin + std::chrono::minutes{6} * turn);
    rig.set_tempo(90 + (turn * 37) % 61 + turn / 100.0);
    if (turn == 10)
      after_first_hour = allocated();
  }
  after_last = allocated();
  const auto& output = rig.output();
  CHECK(output.messages > 500'000);
  CHECK(output.off_tick == 0);
  CHECK(output.worst_ns < 1'000);
  CHECK(rig.wrong() == 0);
  CHECK(output.sounding == static_cast<long>(rig.sounding()));
  const auto grown = static_cast<double>(after_last) - static_cast<double>(after_first_hour);
  CHECK(grown < 512.0 * 1024);
  MESSAGE(output.messages << " messages, at most " << static_cast<double>(output.worst_ns)
                          << " ns off; " << grown / 1024 << " KB more than after an hour");
}
