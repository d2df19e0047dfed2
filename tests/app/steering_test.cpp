// The band beside a clock that comes in: where its beats fall, against the clock's true line.

#include "app/steering.hpp"
#include "practice/sample_session.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <random>

using namespace landfall;
using namespace landfall::app;
using std::chrono::milliseconds;

namespace {

constexpr TimePoint origin{Nanoseconds{987'654'321'012}};
constexpr int seeds = 20;
constexpr double jitter = 0.002;

TimePoint at(double seconds) {
  return origin + std::chrono::duration_cast<Nanoseconds>(std::chrono::duration<double>(seconds));
}

/// A clock whose true tempo is known, and what of it comes in, and when.
struct Master {
  std::vector<double> places;  ///< Seconds of each clock.
  std::vector<double> arrives; ///< The same with jitter; negative: lost.

  void go(int clocks, double tempo) {
    for (int i = 0; i < clocks; ++i) {
      places.push_back(next_);
      next_ = places.back() + 60 / tempo / 24;
    }
  }
  void jitter(double seconds, unsigned seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> off(0, 2 * seconds);
    for (std::size_t i = arrives.size(); i < places.size(); ++i)
      arrives.push_back(places[i] + off(random) - seconds);
  }
  void lose(int from, int to) { std::fill(arrives.begin() + from, arrives.begin() + to, -1); }

private:
  double next_ = 1;
};

/// A band that follows as the conductor does, which asks every four milliseconds.
class Band {
public:
  explicit Band(double tempo) : session_(set_to(tempo)) {}

  /// How many seconds after its clock each sixteenth falls.
  std::map<int, double> follow(const Master& master) {
    const midi::ShortMessage start{{midi::start_byte}, 1}, clock{{midi::clock_byte}, 1};
    follower_.hear(start, at(0.9));
    std::size_t heard = 0;
    std::map<int, double> late;
    for (double now = 0; now < master.places.back(); now += 0.004) {
      for (; heard < master.arrives.size() && master.arrives[heard] <= now; ++heard)
        if (master.arrives[heard] >= 0)
          follower_.hear(clock, at(master.arrives[heard]));
      play_on(at(now));
      note(master, now, late);
    }
    return late;
  }

private:
  static practice::Session::Setup set_to(double tempo) {
    auto setup = test::setup_for("A | D");
    setup.choice.tempo = tempo_from_bpm(tempo);
    return setup;
  }

  void play_on(TimePoint now) {
    const auto& reading = follower_.reading();
    if (!reading.running)
      return;
    if (!transport_.rolling)
      begin(reading);
    const auto soonest = transport_.tick_at(now + milliseconds(30)) + Ticks{1};
    session_.advance(transport_.tick_at(now));
    if (reading.tempo_known)
      if (const auto bend =
              steering_.bend(reading, session_.timeline(), transport_, soonest, {}, now)) {
        session_.steer(bend->from, bend->tempo);
        session_.steer(bend->to, bend->after);
      }
    transport_ = transport_.settled(transport_.tick_at(now));
    if (const auto next = session_.timeline().tempo_after(
            std::max(transport_.tick_at(now), transport_.anchor_tick)))
      transport_ = transport_.with_tempo(next->first, next->second);
  }

  void begin(const midi::ClockReading& reading) {
    session_.start(false);
    transport_ = reading.line;
    transport_.tempo = session_.timeline().tempo_at({});
    steering_.begin({});
  }

  void note(const Master& master, double now, std::map<int, double>& late) {
    for (; transport_.rolling && sixteenth * passed_ <= transport_.tick_at(at(now)); ++passed_) {
      const auto clock = static_cast<std::size_t>(passed_) * 6;
      if (clock < master.places.size())
        late[passed_] = std::chrono::duration<double>(transport_.time_at(sixteenth * passed_) -
                                                      at(master.places[clock]))
                            .count();
    }
  }

  practice::Session session_;
  midi::ClockFollower follower_;
  Steering steering_;
  Transport transport_;
  int passed_ = 0;
};

/// How many milliseconds a sixteenth of these lies off at the most.
double worst_ms(const std::map<int, double>& late, int from, int to) {
  double worst = 0;
  for (auto each = late.lower_bound(from); each != late.lower_bound(to); ++each)
    worst = std::max(worst, std::abs(each->second) * 1000);
  return worst;
}

} // namespace

TEST_CASE("two beats after a clock at another tempo began, the band is with it") {
  for (const auto& tempi : std::vector<std::pair<double, double>>{
           {90, 180}, {180, 90}, {120, 126}, {60, 200}, {240, 60}, {100, 300}, {120, 120}}) {
    const double own = tempi.first, clock = tempi.second;
    double soon = 0, then = 0;
    for (unsigned seed = 1; seed <= seeds; ++seed) {
      Master master;
      master.go(24 * 24, clock);
      master.jitter(jitter, seed);
      const auto late = Band(own).follow(master);
      soon = std::max(soon, worst_ms(late, 8, 16));
      then = std::max(then, worst_ms(late, 16, 96));
    }
    CAPTURE(own);
    CAPTURE(clock);
    CHECK(soon < (clock < 250 ? 5 : 15)); // two beats at 300 are 0.4 s
    CHECK(then < 4);
  }
}

TEST_CASE("a clock that jitters by 2 ms makes no beat longer or shorter than one can hear") {
  double worst = 0;
  for (const double tempo : {40.0, 72.0, 120.0, 200.0, 300.0})
    for (unsigned seed = 1; seed <= seeds; ++seed) {
      Master master;
      master.go(24 * 48, tempo);
      master.jitter(jitter, seed);
      const auto late = Band(tempo).follow(master);
      for (int beat = 16; beat + 4 <= late.rbegin()->first; beat += 4)
        worst = std::max(worst, std::abs(late.at(beat + 4) - late.at(beat)) * 1000);
    }
  CHECK(worst < 2);
}

TEST_CASE("the band goes on through a drop-out and is in its place soon after") {
  double meanwhile = 0, then = 0;
  for (unsigned seed = 1; seed <= seeds; ++seed) {
    Master master;
    master.go(24 * 32, 132);
    master.jitter(jitter, seed);
    master.lose(24 * 8, 24 * 14);
    const auto late = Band(120).follow(master);
    meanwhile = std::max(meanwhile, worst_ms(late, 8 * 4, 14 * 4));
    then = std::max(then, worst_ms(late, 16 * 4, 32 * 4));
  }
  CHECK(meanwhile < 3);
  CHECK(then < 3);
}

TEST_CASE("three beats after the clock's tempo has jumped, the band is with it") {
  double then = 0;
  for (unsigned seed = 1; seed <= seeds; ++seed) {
    Master master;
    master.go(24 * 12, 100);
    master.go(24 * 12, 140);
    master.go(24 * 12, 90);
    master.jitter(jitter, seed);
    const auto late = Band(100).follow(master);
    then = std::max({then, worst_ms(late, 15 * 4, 24 * 4), worst_ms(late, 27 * 4, 36 * 4)});
  }
  CHECK(then < 8);
}
