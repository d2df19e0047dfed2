// A player in real time through a real JACK port: what was judged live is what `review` says of the
// take that was recorded.

#include "midi/realtime.hpp"
#include "real/studio.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using nlohmann::json;

namespace {

using Time = std::chrono::steady_clock;
constexpr std::chrono::milliseconds beat{250}; // 240 to the minute

/// Something the player does, in beats from the first bar of the form.
struct Deed {
  double at;
  midi::ShortMessage message;
};

midi::ShortMessage pedal(int channel, bool down) {
  return midi::control(channel, midi::controller::sustain, down ? 127 : 0);
}

void strike(std::vector<Deed>& deeds, double at, double beats, int channel, int note,
            int velocity = 90) {
  deeds.push_back({at, midi::note_on(channel, note, velocity)});
  deeds.push_back({at + beats, midi::note_off(channel, note)});
}

void bend(std::vector<Deed>& deeds, double at, int channel, int value) {
  deeds.push_back({at, midi::bend(channel, value)});
}

/// Two choruses over A | D | E | A, string by string where `strings`: the verdicts of all kinds,
/// and what a guitar does to notes.
std::vector<Deed> performance(bool strings) {
  const auto on = [&](int string) { return strings ? string - 1 : 0; };
  std::vector<Deed> deeds;
  strike(deeds, 0, 0.9, on(4), 57);    // A on A
  strike(deeds, 3.5, 0.4, on(4), 55);  // G, a half step over
  strike(deeds, 4, 1.9, on(4), 54);    // F# on D
  strike(deeds, 8, 0.4, on(3), 60);    // C over E: off, then
  strike(deeds, 8.75, 0.5, on(3), 59); // B: late
  strike(deeds, 11.5, 2, on(3), 56);   // G#, bent up to A over the change
  bend(deeds, 11.7, on(3), 2048);
  bend(deeds, 11.9, on(3), 4096);
  bend(deeds, 14, on(3), 0);
  deeds.push_back({14, pedal(on(2), true)});
  strike(deeds, 14.2, 0.2, on(2), 64); // E rings on by the pedal over A and into D
  deeds.push_back({21, pedal(on(2), false)});
  strike(deeds, 20, 0.5, on(1), 69, 8); // a ghost of a note
  for (int i = 0; i < 12; ++i)          // sixteenths into E
    strike(deeds, 21 + i * 0.25, 0.2, on(1 + i % 3), 64 + i % 5);
  strike(deeds, 24, 1, on(2), 59); // a double stop on E
  strike(deeds, 24.02, 1, on(1), 64);
  strike(deeds, 28, 3, on(1), 68); // G# over A: a leaning note
  std::stable_sort(deeds.begin(), deeds.end(),
                   [](const Deed& a, const Deed& b) { return a.at < b.at; });
  return deeds;
}

void play(JackClient& client, const std::vector<Deed>& deeds, Time::time_point start) {
  for (const auto& deed : deeds) {
    std::this_thread::sleep_until(start +
                                  std::chrono::duration_cast<Time::duration>(beat * deed.at));
    client.play(deed.message);
  }
}

std::ptrdiff_t notes(const JackClient& client) {
  const auto all = client.recorded(0);
  return std::count_if(all.begin(), all.end(),
                       [](const auto& one) { return midi::is_note_on(one.message); });
}

/// A program of its own for one mode, and the client that plays into it.
struct Player {
  Player(const Studio& studio, const std::string& input_mode)
      : mode(input_mode), take(studio.program.file(mode + ".mid")), client(mode) {
    program = studio.program.start({"play", "A | D | E | A", "--tempo", "240", "--choruses", "2",
                                    "--out", mode + ":in1", "--in", mode + ":out", "--mode", mode,
                                    "--judge", "--take", take});
  }

  /// Waits for the count-in, and plays.
  void perform() {
    eventually([&] { return client.is_heard() && notes(client) > 0; });
    play(client, performance(mode == "strings"), Time::now() + beat * 4);
  }

  json judged() const {
    CHECK(program->wait(std::chrono::seconds(20)) == 0);
    CHECK(program->err().empty());
    return json::parse(program->out(), nullptr, false);
  }

  std::string mode, take;
  JackClient client;
  std::unique_ptr<Child> program;
};

} // namespace

TEST_CASE("what is judged live is what review says of the take: every change and every note") {
  Studio studio;
  if (!studio)
    return;
  Player strings(studio, "strings"), one(studio, "one");
  std::thread other([&] { one.perform(); });
  strings.perform();
  other.join();
  for (auto* player : {&strings, &one}) {
    CAPTURE(player->mode);
    const auto live = player->judged();
    const auto done = studio.program.run({"review", player->take, "--json"});
    REQUIRE(done.exit == 0);
    const auto reviewed = json::parse(done.out, nullptr, false);
    REQUIRE(live.is_object());
    REQUIRE(reviewed.is_object());
    REQUIRE(live["changes"].size() == reviewed["changes"].size());
    for (std::size_t i = 0; i < live["changes"].size(); ++i)
      CHECK(live["changes"][i] == reviewed["changes"][i]);
    CHECK(live["notes"] == reviewed["notes"]);
    CHECK(live["summary"] == reviewed["summary"]);
    MESSAGE(player->mode << ": " << live["summary"].dump());
    CHECK(live["notes"].size() >= 20);
    CHECK(live["summary"]["landed"] > 0);
  }
}
