#include "app/part_routes.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace landfall;
using namespace landfall::app;

namespace {

VoiceRoutes routes(const std::vector<std::string>& lines) {
  VoiceRoutes all;
  for (const auto& line : lines) {
    const auto read = read_voice_route(line);
    REQUIRE_MESSAGE(read, line);
    all.insert(*read);
  }
  return all;
}

const midi::Route& on(const midi::Routing& routing, Voice voice) {
  return routing.routes[static_cast<std::size_t>(channel_of(voice))];
}

std::string complaint(const std::string& text) {
  const auto read = read_voice_route(text);
  if (read)
    return "";
  return std::to_string(read.error().column) + ": " + read.error().reason;
}

} // namespace

TEST_CASE("a part's line says channel, bank, program, transposition and port, and is written so") {
  const std::string text = "bass: channel 3, bank 129, program 34, transpose -12, port Deep, Sea";
  const auto read = read_voice_route(text);
  REQUIRE(read);
  CHECK(read->first == Voice::bass);
  CHECK(read->second == VoiceRoute{"Deep, Sea", 2, 129, 33, -12});
  CHECK(as_text(read->first, read->second) == text);
  CHECK(read_voice_route("call: program none")->second.program == midi::Route::untouched);
  CHECK(read_voice_route("lead:")->second == VoiceRoute{});
}

TEST_CASE("what cannot be read is said with its column") {
  CHECK(complaint("bas: channel 3").starts_with("1: "));
  CHECK(complaint("bass: channel 17").starts_with("15: "));
  CHECK(complaint("bass: channel 3, loud 4").starts_with("23: "));
  CHECK(complaint("bass: program x").starts_with("15: "));
  CHECK(complaint("bass: port ").starts_with("7: "));
  CHECK_FALSE(complaint("").empty());
  CHECK_FALSE(complaint("bass: channel 1\ndrums: channel 2").empty());
}

TEST_CASE("any bytes are read or refused, and what is read is written as the same") {
  std::mt19937 random(5);
  const std::string alphabet = "bas:drums channelprogmtnk0123456789,- port\n";
  for (int i = 0; i < 50'000; ++i) {
    std::string text = i % 2 == 0 ? "bass: " : "";
    for (auto length = random() % 30; length > 0; --length)
      text += alphabet[random() % alphabet.size()];
    if (const auto read = read_voice_route(text)) {
      const auto again = read_voice_route(as_text(read->first, read->second));
      REQUIRE(again);
      REQUIRE(*again == *read);
    }
  }
}

TEST_CASE("without routes all goes straight to the usual output") {
  CHECK(routing_for("", {}, {}) == midi::straight_routing());
}

TEST_CASE("parts go to their ports once these are open, else to the usual output") {
  const auto all =
      routes({"bass: channel 1, program 40, port Deep", "drums: port Other", "lead: transpose 12"});
  CHECK(named_ports(all) == std::vector<std::string>{"Other", "Deep"});
  const auto usual = routing_for("", all, {"Deep"});
  CHECK_FALSE(on(usual, Voice::bass).sends);
  CHECK(on(usual, Voice::drums).sends); // its port is not there
  CHECK(on(usual, Voice::comping).sends);
  CHECK(on(usual, Voice::lead).transpose == 12);
  const auto deep = routing_for("Deep", all, {"Deep"});
  CHECK(on(deep, Voice::bass).sends);
  CHECK(on(deep, Voice::bass).channel == 0);
  CHECK(on(deep, Voice::bass).program == 39);
  for (const auto voice : {Voice::drums, Voice::comping, Voice::lead, Voice::teacher, Voice::call})
    CHECK_FALSE(on(deep, voice).sends);
}

TEST_CASE("the strings' channels go where the player's sound goes, each on a channel of its own") {
  const auto routing = routing_for("", routes({"lead: channel 9, program 31"}), {});
  CHECK(on(routing, Voice::lead).channel == 8);
  for (const int channel : lead_channels) {
    const auto& route = routing.routes[static_cast<std::size_t>(channel)];
    CHECK(route.program == 30);
    if (channel != channel_of(Voice::lead))
      CHECK(route.channel == channel);
  }
}
