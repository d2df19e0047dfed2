#include "app/lists.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

TEST_CASE("the song list has every song with its form, and opens on the present one") {
  const auto list = song_list("slipway-at-six");
  CHECK(list.items.size() >= 6);
  CHECK(list.value() == "slipway-at-six");
  const auto page = list.page();
  CHECK(page.rows.size() == list.items.size());
  CHECK(page.rows[static_cast<std::size_t>(page.selected)].chosen);
  CHECK(page.preview.size() == 1);
  REQUIRE(page.chart.size() == 2);
  for (const auto& line : page.chart)
    CHECK(line.bars.size() == 4);
  CHECK(page.chart[0].bars[2].at(0).root == "D");
}

TEST_CASE("typing narrows the list, and erasing widens it again") {
  auto list = song_list("");
  list.type("slipway");
  CHECK(list.shown().size() == 1);
  CHECK(list.value() == "slipway-at-six");
  list.type("\xc3\xa9zz");
  CHECK(list.shown().empty());
  CHECK(list.value().empty());
  render::KeyPress erase;
  erase.name = "Backspace";
  for (int i = 0; i < 20; ++i)
    CHECK(list.press(erase));
  CHECK(list.shown().size() == list.items.size());
}

TEST_CASE("the focus passes over headings and stays inside") {
  auto list = port_list({{{"Keys", "alsa"}}, {{"Module", "alsa"}}}, Settings{});
  CHECK(list.value() == "out:synth");
  for (int i = 0; i < 50; ++i) {
    list.move(1);
    CHECK(!list.value().empty());
  }
  CHECK(list.value() == "own-sound");
  list.move(-2);
  CHECK(list.value() == "in:Keys");
  for (int i = 0; i < 50; ++i) {
    list.move(-1);
    CHECK(!list.value().empty());
  }
  CHECK(list.value() == "out:synth");
}

TEST_CASE("the page of ports shows the latency that is chosen") {
  Settings settings;
  settings.latency = landfall::midi::Latency::low;
  for (const auto& item : port_list({}, settings).items) {
    if (item.value == "latency:usual")
      CHECK_FALSE(item.chosen);
    if (item.value == "latency:low")
      CHECK(item.chosen);
  }
}

TEST_CASE("a tuning is one of those for as many strings, or what is typed") {
  auto list = tuning_list({"guitar", "", std::nullopt});
  CHECK(list.value() == "tuning:");
  CHECK(list.items.size() >= 5);
  for (const auto& item : list.items)
    CHECK(item.text.find("bass") == std::string::npos);
  list.type("C2 G2 C3 F3 A3 D4");
  CHECK(list.value() == "tuning:C2 G2 C3 F3 A3 D4");
  render::KeyPress erase;
  erase.name = "Backspace";
  list.press(erase);
  CHECK(list.shown().empty());
  list.query.replace("");
  list.type("D2 A2 D3");
  CHECK(list.value() == "tuning:D2 A2 D3");
  CHECK(list.shown().size() > 1); // and what begins so
  CHECK(tuning_list({"guitar", "C2 G2", std::nullopt}).items.back().text == "Your own");
  CHECK(tuning_list({"keyboard", "", std::nullopt}).items.empty());
}
