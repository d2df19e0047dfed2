#include "app/device_options.hpp"
#include "app/parts_page.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::app;

namespace {

const std::vector<midi::PortInfo> outputs{{"Deep Sea", "jack"}, {"Rack: 2", "jack"}};

} // namespace

TEST_CASE("every row of a part's page means a change that its page then shows as chosen") {
  for (const auto voice : all_voices) {
    const auto list = part_list(voice, {}, outputs);
    for (const auto& item : list.items) {
      if (item.value.empty())
        continue;
      CAPTURE(item.value);
      CHECK(voice_of(item.value) == voice);
      const auto routes = changed_routes(item.value, {});
      const auto again = part_list(voice, routes, outputs);
      const auto same = std::find_if(again.items.begin(), again.items.end(),
                                     [&](const auto& row) { return row.value == item.value; });
      REQUIRE(same != again.items.end());
      CHECK(same->chosen);
    }
  }
}

TEST_CASE("a part that is as usual again is not remembered") {
  auto routes = changed_routes("part:bass:channel=4", {});
  CHECK(routes.at(Voice::bass).channel == 4);
  routes = changed_routes("part:bass:channel=", routes);
  CHECK(routes.empty());
  CHECK(changed_routes("out:synth", {}).empty());
  CHECK_FALSE(voice_of("out:synth"));
  CHECK(voice_of("part:call") == Voice::call);
}

TEST_CASE("a bank is chosen by its coarse and its fine controller, in any order") {
  const auto routes = changed_routes("part:bass:bank-fine=5", {});
  CHECK(routes.at(Voice::bass).bank == 5);
  const auto both = changed_routes("part:bass:bank-coarse=127", routes);
  CHECK(both.at(Voice::bass).bank == 127 * 128 + 5);
  CHECK(changed_routes("part:bass:bank-fine=0", both).at(Voice::bass).bank == 127 * 128);
  CHECK(changed_routes("part:bass:bank-coarse=0", both).at(Voice::bass).bank == 5);
  CHECK(changed_routes("part:bass:bank=", both).empty());
}

TEST_CASE("where a part sounds is said in words") {
  CHECK(route_words({}) == "as usual");
  CHECK(route_words({"Deep Sea", 2, 129, 36, -12}) ==
        "channel 3 · Slap Bass 1 · bank 129 · an octave lower · by Deep Sea");
  CHECK(route_words({"", {}, {}, midi::Route::untouched, 5}) == "its own sound · transposed by 5");
}

TEST_CASE("channels are read and written as ranges") {
  CHECK(read_channels("all") == 0xFFFF);
  CHECK(read_channels("1-3, 5,16") == 0b1000'0000'0001'0111);
  for (const auto* text : {"", "0", "17", "3-1", "a", "1,,2", "1-"})
    CHECK_FALSE(read_channels(text));
  for (unsigned channels = 1; channels < 0x10000; channels += 37)
    CHECK(read_channels(channels_text(static_cast<std::uint16_t>(channels))) == channels);
}
