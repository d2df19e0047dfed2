#include "app/calibrate_page.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

namespace {

constexpr Nanoseconds ms{1'000'000};

midi::InputEvent note_at(TimePoint time, std::optional<int> string = std::nullopt) {
  midi::NoteEvent note;
  note.time = time;
  note.note = 60;
  note.velocity = 90;
  note.on = true;
  note.string = string;
  return note;
}

render::KeyPress key(const char* name) {
  render::KeyPress press;
  press.name = name;
  return press;
}

/// A page whose clock is ours.
struct Stand {
  TimePoint now{std::chrono::hours{1}};
  std::optional<ear::Calibration> kept;
  CalibratePage page{{[](bool) {}, [this](const ear::Calibration& found) { kept = found; },
                      "Pickup", [this] { return now; }}};
  TimePoint begun = now;

  TimePoint click(int number) const { return begun + ms * 1000 + ms * 600 * (number + 4); }

  std::string text() {
    FrameInput input;
    page.show(input);
    const auto& list = std::get<render::ListPage>(input.page);
    std::string all;
    for (const auto& line : list.lines)
      all += line + "|";
    return all;
  }
};

} // namespace

TEST_CASE("eight notes late by as much are found to be, and kept when the player says so") {
  Stand stand;
  for (int i = 0; i < 8; ++i)
    CHECK_FALSE(stand.page.hear(note_at(stand.click(i) + ms * 31)));
  CHECK(stand.page.moving());
  stand.now = stand.click(8);
  CHECK(stand.text().find("31 ms late") != std::string::npos);
  CHECK_FALSE(stand.page.moving());
  CHECK_FALSE(stand.kept.has_value());
  CHECK(stand.page.press(key("Return")));
  REQUIRE(stand.kept.has_value());
  CHECK(stand.kept->offset == ms * 31);
  CHECK(stand.page.closed());
}

TEST_CASE("an attempt without notes says so and can be begun again") {
  Stand stand;
  stand.now = stand.click(8);
  CHECK(stand.text().find("no note came in") != std::string::npos);
  CHECK(stand.page.press(key("Return"))); // the first row: again
  CHECK_FALSE(stand.page.closed());
  CHECK(stand.page.moving());
  CHECK(stand.text().find("Listen") != std::string::npos);
}

TEST_CASE("what is played while the beat is found does not count") {
  Stand stand;
  for (int i = -4; i < 8; ++i)
    stand.page.hear(note_at(stand.click(i)));
  stand.now = stand.click(8);
  CHECK(stand.text().find("0 ms late") != std::string::npos);
}

TEST_CASE("leaving it stops the clicks and keeps nothing") {
  Stand stand;
  stand.page.press(key("Down"));
  stand.page.press(key("Return"));
  CHECK(stand.page.closed());
  CHECK_FALSE(stand.kept.has_value());
}

TEST_CASE("a string by itself is measured against the input that is known") {
  ear::Calibration found;
  found.offset = ms * 32;
  found.strings = {{6, Nanoseconds{}}};
  found.only_string = true;
  midi::InputSetup setup;
  CHECK(calibrated(setup, found).latency == ms * 32);
  setup.latency = ms * 20;
  setup.string_latency[0] = ms * 2;
  const auto after = calibrated(setup, found);
  CHECK(after.latency == ms * 20);
  CHECK(after.string_latency[5] == ms * 12);
  CHECK(after.string_latency[0] == ms * 2);
  found.strings = {{1, -ms * 3}, {6, ms * 9}};
  found.only_string = false;
  const auto all = calibrated(setup, found);
  CHECK(all.latency == ms * 32);
  CHECK(all.string_latency[0] == -ms * 3);
  CHECK(all.string_latency[5] == ms * 9);
}
