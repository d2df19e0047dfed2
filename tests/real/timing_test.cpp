// What `play --timing` tells, read as others would.

#include "midi/synth.hpp"
#include "real/studio.hpp"

#include <nlohmann/json.hpp>

using namespace landfall;
using namespace landfall::real;
using nlohmann::json;

namespace {

json timing_of(Studio& studio, const Command& devices) {
  Command command{"play", "A | D", "--tempo", "300", "--choruses", "1"};
  command.insert(command.end(), devices.begin(), devices.end());
  const auto play = studio.play_whole(command);
  INFO(play->out());
  return json::parse(play->out());
}

void check_lateness(const json& lateness) {
  CHECK(lateness.at("events") > 0);
  CHECK(lateness.at("median_us") <= lateness.at("p99_us"));
  CHECK(lateness.at("p99_us") <= lateness.at("worst_us"));
}

} // namespace

TEST_CASE("the report of a performance counts what was sent, how late, and what was left out") {
  Studio studio;
  if (!studio)
    return;
  const auto timing = timing_of(studio, {"--out", "studio:in1", "--in", "none"});
  check_lateness(timing);
  check_lateness(timing.at("bare"));
  CHECK(timing.at("drops") == 0);
  CHECK(timing.at("realtime").is_boolean());
  CHECK_FALSE(timing.contains("xruns")); // it is not ours that sounds

  // As many as sent, and what ends the sound, which has no time to be late against.
  std::uint64_t in_columns = 0, last = 0;
  for (const auto& column : timing.at("histogram")) {
    in_columns += column.at("events").get<std::uint64_t>();
    const auto& end = column.at("up_to_us");
    CHECK((end.is_null() || end.get<std::uint64_t>() > last));
    last = end.is_null() ? last : end.get<std::uint64_t>();
  }
  CHECK(timing.at("histogram").back().at("up_to_us").is_null());
  CHECK(in_columns == timing.at("events"));
  CHECK(studio.client->count(0) >= in_columns);
}

TEST_CASE("with the built-in synth the report counts its xruns") {
  Studio studio;
  if (!studio || !midi::has_synth())
    return;
  const auto done = studio.program.run({"play", "A | D", "--tempo", "300", "--choruses", "1",
                                        "--out", "synth", "--in", "none", "--timing"});
  INFO(done.err);
  if (done.exit != 0) {
    CHECK(done.err.find("sound font") != std::string::npos); // none is installed
    return;
  }
  CHECK(json::parse(done.out).at("xruns").is_number_unsigned());
}
