// The sound server hangs or is killed while the band plays: Landfall goes on, is heard again when
// the server is, and ends when it is told to.

#include "midi/synth.hpp"
#include "real/studio.hpp"

#include <algorithm>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

void survives(const Command& devices) {
  CAPTURE(devices);
  auto server = std::make_unique<JackServer>();
  if (!server->running()) {
    say_why_not(*server);
    return;
  }
  const Program program;
  Command command{"play", "A | D", "--tempo", "240"};
  command.insert(command.end(), devices.begin(), devices.end());
  const auto playing = program.start(command);
  JackClient witness("witness");
  REQUIRE(eventually([&] { return witness.sees("Landfall.*"); }));
  std::this_thread::sleep_for(milliseconds(600)); // it plays
  witness.close();
  server->kill();
  CHECK(eventually([&] { return !playing->err().empty(); })); // it says so
  INFO(playing->err());
  CHECK(playing->running());
  playing->signal(SIGTERM);
  CHECK(playing->wait(std::chrono::seconds(8)) == 0);
}

/// A feel without a sound, so that only the keys are heard.
void write_still_feel(const Program& program) {
  const auto folder = program.file("data/landfall/feels");
  std::filesystem::create_directories(folder);
  std::ofstream(folder + "/still.feel")
      << "name: still\ndrums:\n  kick | .... |\nbass:\n  line | - - - - |\n"
         "comping:\n  chords | .... |\ncount-in:\n  kick | .... |\n";
}

int sound_ports() {
  JackClient visitor("visitor");
  int ports = 0;
  for (const auto* side : {"audio1", "audio2"})
    ports = visitor.connect_from("Landfall.*", JACK_DEFAULT_AUDIO_TYPE, side);
  return ports;
}

bool is_heard(JackClient& ear, JackClient& keys) {
  return eventually([&] {
    ear.connect_from("Landfall.*", JACK_DEFAULT_AUDIO_TYPE, "audio1");
    ear.take_peak();
    keys.play(midi::note_on(0, 72, 120));
    std::this_thread::sleep_for(milliseconds(60));
    keys.play(midi::note_off(0, 72, 64));
    std::this_thread::sleep_for(milliseconds(60));
    return ear.take_peak() > 0.01F;
  });
}

/// Whether a key is heard each time, not now and then.
bool is_always_heard(JackClient& ear, JackClient& keys) {
  for (int i = 0; i < 5; ++i) {
    std::this_thread::sleep_for(milliseconds(600)); // until it has died away
    ear.take_peak();
    keys.play(midi::note_on(0, 72, 120));
    const bool heard = eventually([&] { return ear.take_peak() > 0.01F; }, std::chrono::seconds(1));
    keys.play(midi::note_off(0, 72, 64));
    if (!heard)
      return false;
  }
  return true;
}

void goes_on_after(milliseconds hang, bool notices) {
  JackServer server;
  if (!server.running() || !midi::has_synth())
    return say_why_not(server);
  const Program program;
  write_still_feel(program);
  JackClient ear("ear"), keys("keys");
  const auto playing = program.start(
      {"play", "N.C. | N.C.", "--feel", "still", "--out", "synth", "--in", "keys:out"});
  REQUIRE(eventually([&] { return keys.is_heard(); }));
  REQUIRE(is_heard(ear, keys));
  server.freeze(true);
  std::this_thread::sleep_for(hang);
  server.freeze(false);
  CHECK(is_heard(ear, keys));
  CHECK(eventually([] { return sound_ports() == 2; })); // nothing is left behind
  CHECK(is_always_heard(ear, keys));
  INFO(playing->err());
  CHECK(playing->err().empty() != notices);
  playing->signal(SIGTERM);
  CHECK(playing->wait(std::chrono::seconds(8)) == 0);
}

} // namespace

TEST_CASE("the server hangs for a moment under an instrument and the built-in synth") {
  goes_on_after(milliseconds(1200), false);
}

TEST_CASE("the server hangs for a while under an instrument and the built-in synth") {
  goes_on_after(milliseconds(6500), true);
}

TEST_CASE("the server dies under our own ports") {
  survives({"--out", "virtual", "--in", "virtual"});
}

TEST_CASE("the server dies under the built-in synth") {
  survives({"--out", "synth", "--in", "none"});
}

TEST_CASE("the server hangs for a while, then dies and is started again: the band is heard again") {
  JackServer server;
  if (!server.running())
    return say_why_not(server);
  const Program program;
  auto client = std::make_unique<JackClient>("studio");
  const auto playing = program.start(
      {"play", "A | D", "--tempo", "240", "--out", "studio:in1", "--in", "studio:out"});
  const auto is_heard = [&] {
    const auto before = client->count(0);
    return eventually([&] { return client->count(0) > before + 8; });
  };
  const auto times_waited = [&] {
    const auto text = playing->err();
    int found = 0;
    for (auto at = text.find("waiting for 'studio:in1'"); at != std::string::npos;
         at = text.find("waiting for 'studio:in1'", at + 1))
      ++found;
    return found;
  };
  REQUIRE(is_heard());
  server.freeze(true);
  CHECK(eventually([&] { return times_waited() > 0; }));
  server.freeze(false);
  const auto is_all_off = [](const auto& entry) {
    return entry.message == midi::control(0, midi::controller::all_notes_off, 0);
  };
  CHECK(eventually([&] { // what it could not be told before
    const auto all = client->recorded(0);
    return std::any_of(all.begin(), all.end(), is_all_off);
  }));
  CHECK(is_heard());
  const int before = times_waited();
  server.kill();
  client.reset();
  CHECK(eventually([&] { return times_waited() > before; }));
  REQUIRE(server.restart());
  client = std::make_unique<JackClient>("studio");
  CHECK(is_heard());
  INFO(playing->err());
  playing->signal(SIGTERM);
  CHECK(playing->wait(std::chrono::seconds(8)) == 0);
}
