// Faults of instruments and ports while the band plays: it goes on, says so in one line, and is as
// before when the fault is over.

#include "midi/fake_output.hpp"
#include "real/score.hpp"

#include <csignal>
#include <random>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

using Bytes = std::vector<std::uint8_t>;

constexpr milliseconds soon{2500};
constexpr int lead_channel = 2;

/// The band plays into one client, and a player into the band's lead channel.
struct Band {
  Band() : keys(std::make_unique<JackClient>("keys")) {
    if (!studio)
      return;
    playing = studio.program.start(
        {"play", "A | D", "--tempo", "240", "--out", "studio:in1", "--in", "keys:out", "--timing"});
    REQUIRE(eventually([&] { return hears(60); }));
    REQUIRE(plays_on());
  }

  explicit operator bool() const { return static_cast<bool>(studio); }

  /// Whether a short note of the player's comes through in time.
  bool hears(int note, milliseconds limit = patience) const {
    const auto on = "on 2 " + std::to_string(note) + " 90";
    const auto from = studio.client->count(0);
    return eventually(
        [&] {
          keys->play(midi::note_on(0, note, 90));
          std::this_thread::sleep_for(milliseconds(10));
          keys->play(midi::note_off(0, note));
          std::this_thread::sleep_for(milliseconds(10));
          const auto all = studio.client->recorded(0);
          return std::any_of(
              all.begin() + static_cast<std::ptrdiff_t>(from), all.end(),
              [&](const auto& entry) { return midi::test::text(entry.message) == on; });
        },
        limit);
  }

  bool is_held(int note) const {
    const auto notes = hanging(studio.client->recorded(0));
    const auto name = std::to_string(lead_channel) + ":" + std::to_string(note);
    return std::find(notes.begin(), notes.end(), name) != notes.end();
  }

  bool plays_on() const {
    const auto of_band = [&] {
      const auto all = studio.client->recorded(0);
      return std::count_if(all.begin(), all.end(), [](const auto& entry) {
        return midi::is_note_on(entry.message) && midi::channel_of(entry.message) != lead_channel;
      });
    };
    const auto before = of_band();
    return eventually([&] { return of_band() > before + 8; });
  }

  bool says(const std::string& words, milliseconds limit = soon) const {
    return eventually([&] { return playing->err().find(words) != std::string::npos; }, limit);
  }

  void stop() const {
    playing->signal(SIGTERM);
    CHECK(playing->wait(std::chrono::seconds(5)) == 0);
    CHECK(hanging(studio.client->recorded(0)).empty());
  }

  Studio studio;
  std::unique_ptr<JackClient> keys;
  std::unique_ptr<Child> playing;
};

void wait_for(const JackClient& client) {
  CHECK(eventually([&] { return !client.plays(); }));
}

} // namespace

TEST_CASE("active sensing that stops: what was held ends, it is said, and the next note is heard") {
  Band band;
  if (!band)
    return;
  for (int i = 0; i < 4; ++i) {
    band.keys->play({{0xFE, 0, 0}, 1});
    if (i == 0)
      band.keys->play(midi::note_on(0, 72, 90));
    std::this_thread::sleep_for(milliseconds(200));
  }
  CHECK(band.is_held(72)); // not before the silence
  CHECK(eventually([&] { return !band.is_held(72); }, milliseconds(1200)));
  CHECK(band.says("keys:out has fallen silent: its notes were ended"));
  CHECK(band.hears(73, soon));
  CHECK(band.plays_on());
  band.stop();
}

TEST_CASE("a system exclusive message that breaks off, a megabyte of it, and random bytes") {
  Band band;
  if (!band)
    return;
  band.keys->play(midi::note_on(0, 72, 90));
  REQUIRE(eventually([&] { return band.is_held(72); }));
  band.keys->play_all({{0xF0, 0x7E, 0x11}, midi::test::bytes_of(midi::note_off(0, 72))}, 1);
  CHECK(eventually([&] { return !band.is_held(72); }, soon));
  CHECK(band.hears(73, soon));

  std::vector<Bytes> megabyte(1000, Bytes(1000, 0x55));
  megabyte.front().front() = 0xF0;
  megabyte.back().back() = 0xF7;
  band.keys->play_all(megabyte, 8);
  wait_for(*band.keys);
  CHECK(band.hears(74, soon));

  std::mt19937 random(5);
  std::vector<Bytes> noise(3000);
  for (auto& bytes : noise) {
    bytes.resize(1 + random() % 6);
    for (auto& byte : bytes)
      byte = static_cast<std::uint8_t>(random());
  }
  band.keys->play_all(noise, 8);
  wait_for(*band.keys);
  CHECK(band.hears(75, soon));
  CHECK(band.plays_on());
  band.stop();
}
