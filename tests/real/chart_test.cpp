// A tune of one's own: typed and played in as a player would, and heard by an independent client.

#include "real/screen_studio.hpp"

#include <csignal>
#include <fstream>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using midi::note_off;
using midi::note_on;
using std::chrono::milliseconds;

namespace {

constexpr int bass_channel = 1;
const std::string twelve_bars = "A7|D7|A7|%|D7|%|A7|%|E7|D7|A7|E7";

/// Half a minute at two presses a second.
constexpr int half_a_minute = 60;

/// The window with the page of the quick chart, and a player who counts what is pressed.
struct Desk : ScreenStudio {
  void open(const Command& more = {}) {
    Command arguments{"C | F", "--tempo", "400", "--out", "studio", "--in", "studio"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    window = start(arguments);
    REQUIRE(screen.focus(*window));
  }

  /// Past the questions of the first start, stopped.
  void open_for_the_first_time() {
    open();
    REQUIRE(eventually([&] { return !bass_notes().empty(); }));
    press("Escape");
    press("space");
    REQUIRE(falls_silent([&] { return client->count(0); }));
  }

  void press(const std::string& key) {
    screen.press(key);
    ++presses;
  }

  void type(const std::string& text) {
    screen.type(text);
    presses += static_cast<int>(text.size());
  }

  std::string file(const std::string& name) const {
    return read_file(program.file("data/landfall/" + name));
  }

  /// Whether the draft that is kept comes to be this, below its fields.
  bool keeps(const std::string& bars) const {
    const bool kept =
        eventually([&] { return file("quick-chart.draft").ends_with("\nbars:\n" + bars); });
    if (!kept)
      MESSAGE("the draft is: " << file("quick-chart.draft"));
    return kept;
  }

  /// Pitch classes of the bass, as they were begun.
  std::vector<int> bass_notes() const {
    std::vector<int> notes;
    for (const auto& [frame, message] : client->recorded(0))
      if (midi::is_note_on(message) && midi::channel_of(message) == bass_channel)
        notes.push_back(midi::note_of(message) % 12);
    return notes;
  }

  /// The bass note that follows `before` others, or -1.
  int bass_after(std::size_t before) const {
    eventually([&] { return bass_notes().size() > before; });
    const auto notes = bass_notes();
    return notes.size() > before ? notes[before] : -1;
  }

  void strike(const std::vector<int>& chord) {
    for (const int note : chord)
      client->play(note_on(0, note, 90));
    std::this_thread::sleep_for(milliseconds(40));
    for (const int note : chord)
      client->play(note_off(0, note));
    std::this_thread::sleep_for(milliseconds(40));
  }

  std::unique_ptr<Child> window;
  int presses = 0;
};

} // namespace

TEST_CASE("twelve bars are typed in half a minute, heard, changed while they play, and saved") {
  Desk desk;
  if (!desk)
    return;
  desk.open_for_the_first_time();
  desk.presses = 0;
  auto before = desk.bass_notes().size();
  desk.press("Q");
  desk.type(twelve_bars);
  desk.press("ctrl+Return");
  MESSAGE("presses for twelve bars: " << desk.presses);
  CHECK(desk.presses <= half_a_minute);
  CHECK(desk.bass_after(before) == 9);
  CHECK(desk.keeps(twelve_bars));

  desk.press("Home");
  desk.press("Delete");
  desk.type("Eb");
  CHECK(desk.keeps("Eb" + twelve_bars.substr(1)));
  before = desk.bass_notes().size();
  desk.press("ctrl+Return");
  std::this_thread::sleep_for(milliseconds(500));
  CHECK(desk.bass_after(before) >= 0);

  desk.press("ctrl+s"); // asks for its name
  desk.type("Wet rope");
  desk.press("ctrl+s");
  const auto saved = [&] { return desk.file("songs/wet-rope.song"); };
  CHECK(eventually([&] { return saved().find("title: Wet rope") != std::string::npos; }));
  CHECK(saved().find("Eb7|D7|A7|%|") != std::string::npos);
  CHECK(desk.window->running());
  desk.press("Escape");
  desk.press("ctrl+q");
  CHECK(desk.window->wait() == 0);
  const auto changes = desk.program.run({"changes", "wet-rope"});
  CHECK(changes.exit == 0);
  CHECK(changes.out.find("\n  12:1     E7") != std::string::npos);
}

TEST_CASE("what was typed is undone and done again, survives a crash, and overwrites nothing") {
  Desk desk;
  if (!desk)
    return;
  desk.open_for_the_first_time();
  desk.press("Q");
  desk.type("Em | H");
  CHECK(desk.keeps("Em | H")); // though it cannot be read
  desk.press("ctrl+z");
  CHECK(desk.keeps("Em | "));
  desk.press("ctrl+shift+z");
  CHECK(desk.keeps("Em | H"));
  desk.window->signal(SIGKILL);
  desk.window->wait();

  const auto there = desk.program.file("data/landfall/songs/wet-rope.song");
  CHECK(std::system(("mkdir -p " + desk.program.file("data/landfall/songs")).c_str()) == 0);
  std::ofstream(there) << "C | G\n";
  desk.open();
  desk.press("Q");
  desk.press("BackSpace");
  desk.type("A7");
  CHECK(desk.keeps("Em | A7"));
  desk.press("ctrl+s");
  desk.type("Wet rope");
  desk.press("ctrl+s");
  CHECK(eventually(
      [&] { return desk.file("quick-chart.draft").find("title: Wet rope") != std::string::npos; }));
  CHECK(read_file(there) == "C | G\n");
  desk.press("ctrl+s");
  CHECK(eventually([&] { return read_file(there).find("Em | A7") != std::string::npos; }));
  desk.window->signal(SIGTERM);
  CHECK(desk.window->wait() == 0);
}

TEST_CASE("twelve bars are played in with twelve chords, and corrected by a key") {
  Desk desk;
  if (!desk)
    return;
  desk.open_for_the_first_time();
  desk.press("Q");
  const std::vector<int> a7{45, 57, 61, 64, 67}, d7{50, 57, 60, 66}, e7{52, 56, 62, 64, 71};
  int strikes = 0;
  const auto comes_in = [&] {
    ++strikes;
    desk.strike(a7);
    return desk.file("quick-chart.draft").find("| A7 |") != std::string::npos;
  };
  REQUIRE(eventually(comes_in)); // the port may still be opening
  for (; strikes > 0; --strikes)
    desk.press("ctrl+z");
  CHECK(desk.keeps(""));
  for (const auto* chord : {&a7, &d7, &a7, &a7, &d7, &d7, &a7, &a7, &e7, &d7, &a7, &e7})
    desk.strike(*chord);
  CHECK(desk.keeps("| A7 | D7 | A7 | A7 |\n| D7 | D7 | A7 | A7 |\n| E7 | D7 | A7 | E7 |"));
  desk.strike({45, 60, 64, 67});
  CHECK(desk.keeps("| A7 | D7 | A7 | A7 |\n| D7 | D7 | A7 | A7 |\n| E7 | D7 | A7 | E7 |\n| Am7 |"));
  desk.press("F3");
  CHECK(
      desk.keeps("| A7 | D7 | A7 | A7 |\n| D7 | D7 | A7 | A7 |\n| E7 | D7 | A7 | E7 |\n| C6/A |"));
  desk.window->signal(SIGTERM);
  CHECK(desk.window->wait() == 0);
}
