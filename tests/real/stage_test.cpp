// No note hangs, however the window is ended and whatever is changed in it while it plays: a client
// of its own counts what sounds.

#include "midi/fake_output.hpp"
#include "real/stage.hpp"

#include <csignal>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

/// What sounds after the first panic that came since `from`; nothing where none came.
std::optional<std::vector<std::string>> after_panic(std::vector<Recorded> recorded,
                                                    std::size_t from) {
  for (auto i = from; i < recorded.size(); ++i)
    if (recorded[i].message == midi::bend(midi::channel_count - 1, 0)) {
      recorded.resize(i + 1);
      return hanging(recorded);
    }
  return std::nullopt;
}

/// What must hold after the program has ended.
void check_ended(Stage& stage, int exit) {
  CHECK(stage.window->wait(std::chrono::seconds(5)) == exit);
  CHECK(stage.silent(0, Stage::soon));
}

} // namespace

TEST_CASE("panic, a loop, another song, another port: what sounds ends, and the band plays on") {
  Stage stage;
  if (!stage)
    return;
  stage.open();
  auto& screen = stage.screen;

  REQUIRE(stage.hold(64));
  const auto before = stage.heard().size();
  screen.press("BackSpace");
  REQUIRE(eventually([&] { return after_panic(stage.heard(), before).has_value(); }));
  CHECK(after_panic(stage.heard(), before)->empty());
  CHECK_FALSE(stage.is_held(64));
  CHECK(stage.plays_on());

  REQUIRE(stage.something_sounds());
  screen.press("l");
  CHECK(stage.ends_what_sounds());
  CHECK(stage.plays_on());

  REQUIRE(stage.something_sounds());
  screen.press("s");
  screen.press("Down");
  screen.press("Return");
  CHECK(stage.ends_what_sounds());
  CHECK(stage.plays_on());

  REQUIRE(stage.hold(65));
  screen.press("p");
  for (int i = 0; i < 4; ++i) // from the synth past virtual, none and the present one
    screen.press("Down");
  screen.press("Return");
  CHECK(stage.plays_on(1));
  CHECK(hanging(stage.heard(0)).empty());
  const auto came = stage.heard(0).size();
  CHECK(stage.plays_on(1));
  CHECK(stage.heard(0).size() == came);
  screen.press("Escape");

  REQUIRE(stage.something_sounds(1));
  screen.press("space");
  CHECK(stage.silent(1));
  screen.press("space");
  CHECK(stage.plays_on(1));
  screen.press("ctrl+q");
  check_ended(stage, 0);
  CHECK(stage.silent(1));
}

TEST_CASE("a note that is held while its instrument is unplugged ends; the next one is heard, and "
          "a flood of them does not hold the window up") {
  Stage stage;
  if (!stage)
    return;
  stage.open();
  REQUIRE(stage.hold(64));
  stage.keys->close();
  CHECK(eventually([&] { return !stage.is_held(64); }, Stage::soon));
  CHECK(stage.plays_on());
  stage.keys = std::make_unique<JackClient>("keys");
  CHECK(eventually([&] { return stage.keys->is_heard(); }, Stage::soon));
  CHECK(stage.hold(67));

  std::vector<std::vector<std::uint8_t>> flood; // ten thousand a second
  for (int i = 0; i < 20'000; ++i) {
    flood.push_back(midi::test::bytes_of(midi::note_on(0, 40 + i % 40, 90)));
    flood.push_back(midi::test::bytes_of(midi::note_off(0, 40 + i % 40)));
  }
  stage.keys->play_all(std::move(flood), 14);
  std::this_thread::sleep_for(milliseconds(500));
  const auto before = stage.heard().size();
  stage.screen.press("BackSpace"); // the window answers in the midst of it
  CHECK(eventually([&] { return after_panic(stage.heard(), before).has_value(); },
                   milliseconds(2500)));
  CHECK(stage.keys->plays());
  CHECK(stage.plays_on());
  if (stage.screen.ask_to_close())
    check_ended(stage, 0);
}

TEST_CASE("signals from outside and a crash in the window's thread leave no note behind") {
  Stage stage;
  if (!stage)
    return;
  for (const int signal : {SIGTERM, SIGINT, SIGHUP, SIGSEGV, SIGABRT}) {
    CAPTURE(signal);
    stage.open();
    REQUIRE(stage.hold(64));
    stage.window->signal(signal);
    check_ended(stage, signal == SIGSEGV || signal == SIGABRT ? 128 + signal : 0);
  }
}

TEST_CASE("the screen's server crashes: the program ends, and no note is left behind") {
  Stage stage;
  if (!stage)
    return;
  stage.open();
  REQUIRE(stage.hold(64));
  stage.screen.kill();
  CHECK(stage.window->wait() != still_running);
  CHECK(stage.silent(0, Stage::soon));
}
