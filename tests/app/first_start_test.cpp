#include "app/first_start.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::app;

namespace {

/// The questions, asked of a player who sits at them.
struct Player {
  FirstStart::State state;
  std::vector<std::string> chosen;
  int done = 0;
  FirstStart page{{[this] { return state; },
                   [this](const std::string& value) {
                     chosen.push_back(value);
                     if (value.starts_with("in:"))
                       state.settings.in = value.substr(3);
                   },
                   [this] { ++done; }}};

  render::ListPage seen() {
    FrameInput input;
    page.show(input);
    return std::get<render::ListPage>(input.page);
  }
  void press(const char* name) {
    render::KeyPress key;
    key.name = name;
    page.press(key);
  }
  /// Moves the focus to a row and answers with it.
  bool answer(const std::string& text) {
    const auto rows = seen().rows;
    const auto row =
        std::find_if(rows.begin(), rows.end(), [&](const auto& r) { return r.text == text; });
    if (row == rows.end())
      return false;
    page.click(render::HitRow{static_cast<int>(row - rows.begin()), 0}, render::MouseButton::left);
    return true;
  }
};

} // namespace

TEST_CASE("the first questions are answered one after the other, by Return alone too") {
  Player player;
  player.state.has_input = true;
  player.state.ports = {{{"Keys", "alsa"}}, {{"Module", "alsa"}}};
  std::vector<std::string> titles{player.seen().title};
  for (int i = 0; i < 9 && !player.page.closed(); ++i) {
    player.press(titles.back() == "Your latency" ? "Right" : "Return");
    if (!player.page.closed() && player.seen().title != titles.back())
      titles.push_back(player.seen().title);
  }
  CHECK(titles == std::vector<std::string>{"What do you play?", "Where is it plugged in?",
                                           "Its own sound?", "The band's sound", "Your latency",
                                           "Hands and ears"});
  CHECK(player.page.closed());
  CHECK(player.done == 1);
  CHECK(player.chosen ==
        std::vector<std::string>{"instrument:guitar", "in:", "through", "out:synth", "test-sound"});
}

TEST_CASE("an output is heard before it is left, as often as one likes") {
  Player player;
  player.state.ports.outputs = {{"Module", "alsa"}};
  for (int i = 0; i < 3; ++i)
    player.press("Return");
  REQUIRE(player.seen().title == "The band's sound");
  player.chosen.clear();
  REQUIRE(player.answer("Module"));
  REQUIRE(player.answer("Test sound"));
  CHECK(player.seen().title == "The band's sound");
  CHECK(player.chosen == std::vector<std::string>{"out:Module", "test-sound", "test-sound"});
  CHECK(player.seen().rows[static_cast<std::size_t>(player.seen().selected)].text ==
        "I hear it: go on");
}

TEST_CASE("without MIDI nothing is asked that needs it") {
  Player player;
  player.press("Return");
  REQUIRE(player.answer("No MIDI"));
  CHECK(player.seen().title == "The band's sound");
  REQUIRE(player.answer("I hear it: go on"));
  CHECK(player.seen().title == "Hands and ears");
  REQUIRE(player.answer("Back"));
  CHECK(player.seen().title == "The band's sound");
}

TEST_CASE("the input that is heard is marked and has the focus") {
  Player player;
  player.state.ports.inputs = {{"Keys", "alsa"}, {"Pads", "alsa"}};
  CHECK_FALSE(player.page.asks_for_input());
  player.page.heard("Pads"); // not asked yet
  player.press("Return");
  CHECK(player.page.asks_for_input());
  CHECK(player.seen().rows[1].detail == "alsa");
  player.page.heard("Pads");
  const auto page = player.seen();
  CHECK(page.selected == 1);
  CHECK(page.rows[1].detail == "heard");
  player.press("Return");
  CHECK(player.state.settings.in == "Pads");
}

TEST_CASE("a port that appears while it is asked for is offered, and the focus stays") {
  Player player;
  player.press("Return");
  player.press("Down");
  player.press("Down");
  const auto before = player.seen();
  player.state.ports.inputs = {{"Keys", "alsa"}};
  const auto after = player.seen();
  CHECK(after.rows.size() == before.rows.size() + 1);
  CHECK(after.rows[static_cast<std::size_t>(after.selected)].text == "No MIDI");
}

TEST_CASE("an input that goes while it is asked about leads to what is asked last") {
  Player player;
  player.state.has_input = true;
  for (int i = 0; i < 3; ++i)
    player.press("Return");
  player.press("Return");
  player.press("Return");
  REQUIRE(player.seen().title == "Your latency");
  player.state.has_input = false;
  player.seen();
  player.press("Right");
  CHECK(player.seen().title == "Hands and ears");
  CHECK_FALSE(player.page.closed());
}

TEST_CASE("skipped, they are done with; what hurts and who helps is said at the end") {
  Player player;
  REQUIRE(player.answer("Skip the questions"));
  CHECK(player.page.closed());
  CHECK(player.done == 1);
  Player other;
  std::string text;
  for (int i = 0; i < 6 && text.find("doctor") == std::string::npos; ++i) {
    text.clear();
    for (const auto& line : other.seen().lines)
      text += line;
    other.press("Right");
  }
  CHECK(text.find("doctor") != std::string::npos);
  CHECK(text.find("therapist") != std::string::npos);
}
