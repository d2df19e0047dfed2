// Faults of instruments and ports while the band plays: it goes on, says so in one line, and is as
// before when the fault is over.

#include "midi/active_sensing.hpp"
#include "midi/fake_output.hpp"
#include "real/score.hpp"

#include <csignal>
#include <random>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using midi::ActiveSensing;
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

  /// All of it, and the band goes on meanwhile.
  void plays_all(std::vector<Bytes> messages, std::size_t each_period) const {
    keys->play_all(std::move(messages), each_period);
    CHECK(plays_on());
    CHECK(eventually([&] { return !keys->plays(); }));
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

/// Kilobytes that a program has in memory.
long memory_of(const Child& program) {
  const auto status = read_file("/proc/" + std::to_string(program.id()) + "/status");
  const auto at = status.find("VmRSS:");
  return at == std::string::npos ? 0 : std::stol(status.substr(at + 6));
}

std::vector<Bytes> a_megabyte() {
  std::vector<Bytes> pieces(1000, Bytes(1000, 0x55));
  pieces.front().front() = 0xF0;
  pieces.back().back() = 0xF7;
  return pieces;
}

/// What it may have begun of a system exclusive message ends with it.
std::vector<Bytes> random_bytes() {
  std::mt19937 random(5);
  std::vector<Bytes> noise(3000);
  for (auto& bytes : noise) {
    bytes.resize(1 + random() % 6);
    for (auto& byte : bytes)
      byte = static_cast<std::uint8_t>(random());
  }
  noise.push_back({0xF7});
  return noise;
}

std::vector<Bytes> many_notes(int count) {
  std::vector<Bytes> flood;
  for (int i = 0; i < count; ++i) {
    flood.push_back(midi::test::bytes_of(midi::note_on(0, 40 + i % 40, 90)));
    flood.push_back(midi::test::bytes_of(midi::note_off(0, 40 + i % 40)));
  }
  return flood;
}

} // namespace

TEST_CASE("an input that falls silent, breaks off, makes noise, floods and changes its number") {
  Band band;
  if (!band)
    return;

  // Active sensing that stops: what is held ends, though not before the silence.
  for (int i = 0; i < 8; ++i) {
    band.keys->play({{ActiveSensing::status, 0, 0}, 1});
    if (i == 0)
      band.keys->play(midi::note_on(0, 72, 90));
    std::this_thread::sleep_for(milliseconds(100));
  }
  CHECK(band.is_held(72));
  CHECK(eventually([&] { return !band.is_held(72); }));
  CHECK(band.says("keys:out has fallen silent: its notes were ended"));
  CHECK(band.hears(61, soon));

  // A system exclusive message that breaks off hides the end of a note.
  band.keys->play(midi::note_on(0, 72, 90));
  REQUIRE(eventually([&] { return band.is_held(72); }));
  band.keys->play_all({{0xF0, 0x7E, 0x11}, midi::test::bytes_of(midi::note_off(0, 72))}, 1);
  CHECK(eventually([&] { return !band.is_held(72); }, soon));
  CHECK(band.says("keys:out broke off a message: its notes were ended"));
  CHECK(band.hears(62, soon));

  // A megabyte of it that is whole, and random bytes.
  band.plays_all(a_megabyte(), 8);
  CHECK(band.hears(63, soon));
  band.plays_all(random_bytes(), 8);
  CHECK(band.hears(64, soon));

  // Ten thousand messages a second.
  const auto before = memory_of(*band.playing);
  band.plays_all(many_notes(15'000), 14); // 750 periods a second
  const auto grown = memory_of(*band.playing) - before;
  CHECK(grown < 16'000);
  CHECK(band.hears(65, soon));

  // Back as another client.
  band.keys->close();
  CHECK(band.says("keys:out is gone"));
  band.keys = std::make_unique<JackClient>("keys-01");
  CHECK(band.hears(66, soon));
  CHECK(band.plays_on());
  band.stop();
  MESSAGE("grown by " << grown << " kB; " << band.playing->out());
}

TEST_CASE("pulled and plugged in again at once: both ways are there again") {
  Band band;
  if (!band)
    return;
  band.keys->play(midi::note_on(0, 72, 90));
  REQUIRE(eventually([&] { return band.is_held(72); }));
  band.keys->close();
  band.keys = std::make_unique<JackClient>("keys");
  CHECK(eventually([&] { return !band.is_held(72); }, soon));
  CHECK(band.says("keys:out was unplugged and is back"));
  CHECK(band.hears(61, soon));
  band.studio.client->close();
  band.studio.come_back();
  CHECK(band.plays_on());
  CHECK(band.hears(62, soon));
  band.stop();
}
