// A trade through real JACK ports: an independent client hears the calls and echoes them with
// errors that are known, and the verdicts name these and no others, live and from the take.

#include "real/screen_studio.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <csignal>
#include <filesystem>
#include <map>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using nlohmann::json;
using std::chrono::milliseconds;

namespace {

using Time = std::chrono::steady_clock;
constexpr int call_channel = 3;
constexpr milliseconds beat{250}, bar{1000};  // 240 to the minute, 4/4
constexpr milliseconds turn_length = bar * 2; // a bar of call, a bar of answer

/// What the client does with a note of a call.
struct Echo {
  bool plays = true;
  int higher = 0; ///< Half steps.
  milliseconds later{0};
  bool and_another = false; ///< A note more, that nobody asked for, soon after it.
};
using Slip = std::function<Echo(int turn, int note)>;

/// Hears calls, and answers each note a bar later.
class Echoer {
public:
  Echoer(JackClient& client, Slip slip) : client_(client), slip_(std::move(slip)) {}

  /// Looks once: what is new is answered later, what is due is played.
  void look() {
    const auto now = Time::now();
    if (looked_)
      blink_ = std::max(blink_, now - *looked_);
    looked_ = now;
    const auto all = client_.recorded(0);
    for (; seen_ < all.size(); ++seen_)
      hear(all[seen_].message, now);
    while (!due_.empty() && due_.begin()->first <= now) {
      client_.play(due_.begin()->second);
      due_.erase(due_.begin());
    }
  }
  int notes() const { return notes_; }
  /// The longest time from one look to the next.
  milliseconds blink() const { return std::chrono::duration_cast<milliseconds>(blink_); }

private:
  void hear(const midi::ShortMessage& message, Time::time_point now) {
    const int channel = midi::channel_of(message);
    if (!begun_ && midi::is_note_on(message) && channel != call_channel)
      begun_ = now + bar; // the first beat of the count-in
    if (channel != call_channel || !begun_)
      return;
    if (midi::is_note_on(message))
      answer(midi::note_of(message), now);
    else if (midi::is_note_off(message))
      if (const auto held = held_.extract(midi::note_of(message)))
        for (const auto& [note, later] : held.mapped())
          due_.emplace(now + bar + later, midi::note_off(0, note));
  }

  void answer(int note, Time::time_point now) {
    const int turn = static_cast<int>((now - *begun_ + beat) / turn_length);
    if (turn != turn_)
      turn_ = turn, in_turn_ = 0;
    const auto echo = slip_(turn, in_turn_++);
    ++notes_;
    if (echo.plays) {
      due_.emplace(now + bar + echo.later, midi::note_on(0, note + echo.higher, 90));
      held_[note].emplace_back(note + echo.higher, echo.later);
    }
    if (echo.and_another) {
      due_.emplace(now + bar + milliseconds(80), midi::note_on(0, note + 18, 90));
      due_.emplace(now + bar + milliseconds(140), midi::note_off(0, note + 18));
    }
  }

  JackClient& client_;
  Slip slip_;
  std::size_t seen_ = 0;
  std::optional<Time::time_point> begun_; ///< Where bar 1 is.
  std::optional<Time::time_point> looked_;
  Time::duration blink_{0};
  int turn_ = -1, in_turn_ = 0, notes_ = 0;
  std::map<int, std::vector<std::pair<int, milliseconds>>> held_;
  std::multimap<Time::time_point, midi::ShortMessage> due_;
};

/// What goes wrong, turn by turn.
Echo known_slip(int turn, int note) {
  Echo echo;
  if (turn == 1 && note == 1)
    echo.higher = 1;
  if (turn == 2 && note == 0)
    echo.plays = false;
  if (turn == 3 && note == 0)
    echo.and_another = true;
  if (turn == 4)
    echo.higher = 12;
  if (turn == 5)
    echo.later = milliseconds(110);
  if (turn == 6)
    echo.plays = false;
  return echo;
}

/// Echoes calls with known errors while a program plays; how long a busy machine made it blink.
milliseconds echo(Child& playing, JackClient& client) {
  Echoer echoer(client, known_slip);
  while (playing.running()) {
    echoer.look();
    std::this_thread::sleep_for(milliseconds(1));
  }
  return echoer.blink();
}

int count(const json& turn, const char* what) {
  return turn.value(what, -1);
}

} // namespace

TEST_CASE("a client that echoes calls with known errors is told these, live and from the take") {
  Studio studio;
  if (!studio)
    return;
  const auto take = studio.program.file("trade.mid");
  std::unique_ptr<Child> program;
  milliseconds blink{0};
  for (int i = 0; i == 0 || (i < performances && blink > milliseconds(50)); ++i) {
    program = studio.play_whole(
        {"play",  "A | A",      "--tempo", "240",       "--choruses", "7",      "--trade",
         "echo",  "--turns",    "1",       "--density", "medium",     "--seed", "5",
         "--out", "studio:in1", "--in",    "studio",    "--judge",    "--take", take},
        [&](Child& playing) { blink = echo(playing, *studio.client); });
  }
  CHECK(program->err() == "");
  const auto out = program->out();
  const auto live = json::parse(out.substr(0, out.find('\n')), nullptr, false);
  REQUIRE(live.is_object());
  REQUIRE(live.contains("trade"));
  const auto& turns = live["trade"];
  REQUIRE(turns.size() >= 7);
  for (const auto& turn : turns)
    MESSAGE(turn.value("turn", 0) << ": " << turn.value("words", "") << ", delay "
                                  << turn.value("delay_ms", 0.0) << " ms, " << turn["notes"].size()
                                  << " notes");
  const auto asked = [&](std::size_t turn) {
    return static_cast<int>(turns[turn]["notes"].size());
  };
  for (std::size_t turn = 0; turn < 6; ++turn) {
    CAPTURE(turn);
    REQUIRE(asked(turn) >= 2);
    CHECK(turns[turn]["answered"] == true);
    CHECK(count(turns[turn], "wrong") == (turn == 1 ? 1 : 0));
    CHECK(count(turns[turn], "missing") == (turn == 2 ? 1 : 0));
    CHECK(turns[turn]["extra"].size() == (turn == 3 ? 1 : 0));
    CHECK(count(turns[turn], "matched") == asked(turn) - (turn == 1 || turn == 2 ? 1 : 0));
  }
  CHECK(turns[1]["notes"][1]["cents_off"] == 100.0);
  const bool few = asked(5) < 3; // a delay is told from three notes on
  CHECK((few ? turns[5]["notes"][0].value("behind_ms", 0.0) : turns[5].value("delay_ms", 0.0)) >
        60.0);
  CHECK(turns[6]["answered"] == false);

  const auto done = studio.program.run({"review", take, "--json"});
  REQUIRE(done.exit == 0);
  const auto reviewed = json::parse(done.out, nullptr, false);
  REQUIRE(reviewed.contains("trade"));
  CHECK(reviewed["trade"] == turns);
}

TEST_CASE("a trade in the window is kept with its take, and review says the same of it") {
  ScreenStudio studio;
  if (!studio)
    return;
  auto& screen = studio.screen;
  auto window =
      studio.start({"A | A | A | A", "--tempo", "240", "--out", "studio:in1", "--in", "studio"});
  REQUIRE(screen.focus(*window)); // the first start plays by itself
  screen.press("Escape");
  screen.press("Tab");
  screen.press("B"); // four bars each ...
  screen.press("B"); // ... one bar each
  screen.press("space");
  screen.press("space");
  Echoer echoer(*studio.client, [](int, int) { return Echo{}; });
  CHECK(eventually(
      [&] {
        echoer.look();
        return echoer.notes() >= 8;
      },
      milliseconds(60'000)));
  screen.press("R");
  screen.press("space");
  const auto folder = std::filesystem::path(studio.program.file("data/landfall/takes"));
  std::string take;
  CHECK(eventually([&] {
    std::error_code ignored;
    for (const auto& file : std::filesystem::directory_iterator(folder, ignored))
      take = file.path().string();
    return take.ends_with(".mid");
  }));
  const auto done = studio.program.run({"review", take, "--json"});
  REQUIRE(done.exit == 0);
  const auto reviewed = json::parse(done.out, nullptr, false);
  REQUIRE(reviewed.contains("trade"));
  int matched = 0;
  for (const auto& turn : reviewed["trade"]) {
    CHECK(turn["words"].get<std::string>() != "");
    matched += count(turn, "matched");
  }
  CHECK(matched >= 4);
  window->signal(SIGTERM);
  CHECK(window->wait() == 0);
}
