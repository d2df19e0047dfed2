// Driven by an independent client that acts as a foot switch and as the player's keyboard.

#include "real/score.hpp"
#include "real/screen_studio.hpp"

#include <algorithm>
#include <csignal>
#include <fstream>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using midi::control;
using midi::note_on;
using std::chrono::milliseconds;

namespace {

constexpr int lead_channel = 2;

std::string write_controls(const Program& program, const std::string& text) {
  const auto path = program.file("stage.controls");
  std::ofstream(path) << text;
  return path;
}

/// How many messages of a kind the client has heard on "in1".
std::size_t heard(const JackClient& client,
                  const std::function<bool(const midi::ShortMessage&)>& is) {
  const auto all = client.recorded(0);
  return static_cast<std::size_t>(std::count_if(
      all.begin(), all.end(), [&](const auto& recorded) { return is(recorded.message); }));
}

std::size_t band_notes(const JackClient& client) {
  return heard(client, [](const auto& message) {
    return midi::is_note_on(message) && midi::channel_of(message) != lead_channel;
  });
}

std::string shipped(const std::string& profile) {
  return std::string(LANDFALL_SOURCE_DIR) + "/midi/profiles/" + profile + ".controls";
}

/// How many notes of a channel the client has heard.
std::size_t notes_on(const JackClient& client, int channel) {
  return heard(client, [channel](const auto& message) {
    return midi::is_note_on(message) && midi::channel_of(message) == channel;
  });
}

/// How many of the last eight bass notes are of a major triad.
std::ptrdiff_t bass_in_triad(const JackClient& client, int root) {
  std::vector<int> degrees;
  for (const auto& [frame, message] : client.recorded(0))
    if (midi::is_note_on(message) && midi::channel_of(message) == 1)
      degrees.push_back((midi::note_of(message) - root + 12) % 12);
  const auto last = degrees.end() - std::min<std::ptrdiff_t>(8, std::ssize(degrees));
  return std::count_if(last, degrees.end(),
                       [](int degree) { return degree == 0 || degree == 4 || degree == 7; });
}

void hold(JackClient& client, int number) {
  client.play(control(5, number, 127));
  std::this_thread::sleep_for(milliseconds(800));
  client.play(control(5, number, 0));
}

bool band_falls_silent(const JackClient& client) {
  return falls_silent([&] { return band_notes(client); });
}

} // namespace

TEST_CASE("play is stopped by a foot switch, whose own messages are neither heard nor recorded") {
  Studio studio;
  if (!studio)
    return;
  auto& client = *studio.client;
  const auto controls = write_controls(studio.program, "device: studio\n"
                                                       "controller 64: start-stop\n"
                                                       "note 36: mute-drums\n");
  const auto take = studio.program.file("take.mid");
  const auto playing = studio.program.start({"play", "A | D", "--out", "studio", "--in", "studio",
                                             "--controls", controls, "--take", take});
  CHECK(eventually([&] { return band_notes(client) > 8; }));
  client.play(note_on(0, 36, 100));
  std::this_thread::sleep_for(milliseconds(100));
  client.play(note_on(0, 60, 100));
  const auto sounds = [&](int note) {
    return heard(client, [note](const auto& message) {
      return midi::is_note_on(message) && midi::channel_of(message) == lead_channel &&
             midi::note_of(message) == note;
    });
  };
  CHECK(eventually([&] { return sounds(60) == 1; }));
  CHECK(sounds(36) == 0);
  CHECK(playing->running());
  client.play(control(0, 64, 127));
  CHECK(playing->wait() == 0);
  const auto sustains = heard(client, [](const auto& message) {
    return midi::status_of(message) == midi::Status::control && message.bytes[1] == 64 &&
           message.bytes[2] == 127;
  });
  CHECK(sustains == 0);
  std::vector<int> taken;
  const auto file = read_song(take);
  for (const auto& event : file.tracks.back().events)
    if (const auto* message = std::get_if<midi::ShortMessage>(&event.content))
      if (midi::is_note_on(*message) || midi::status_of(*message) == midi::Status::control)
        taken.push_back(message->bytes[1]);
  CHECK(taken == std::vector{60});
}

TEST_CASE("with one switch alone the window is started, stopped and brought to an end") {
  ScreenStudio studio;
  if (!studio)
    return;
  auto& screen = studio.screen;
  auto& client = *studio.client;
  const auto controls = write_controls(studio.program, "device: studio\n"
                                                       "controller 64: start-stop\n"
                                                       "controller 64 double: what-next-start\n"
                                                       "controller 64 long: end-now\n");
  const auto open = [&] {
    return studio.start(
        {"A | D", "--tempo", "300", "--out", "studio", "--in", "none", "--controls", controls});
  };
  auto window = open(); // the first start plays by itself
  REQUIRE(screen.focus(*window));
  CHECK(eventually([&] { return band_notes(client) > 4; }));
  REQUIRE(eventually([&] { return client.is_heard(); }));
  tread(client, 64);
  CHECK(band_falls_silent(client));
  auto before = band_notes(client);
  tread(client, 64);
  CHECK(eventually([&] { return band_notes(client) > before + 4; }));
  client.play(control(5, 64, 127)); // held: the band closes the song by itself
  std::this_thread::sleep_for(milliseconds(800));
  client.play(control(5, 64, 0));
  CHECK(band_falls_silent(client));
  before = band_notes(client);
  for (const int value : {127, 0, 127, 0}) { // twice within 0.3 s
    client.play(control(5, 64, value));
    std::this_thread::sleep_for(milliseconds(20));
  }
  CHECK(eventually([&] { return band_notes(client) > before + 4; }));
  window->signal(SIGTERM);
  CHECK(window->wait() == 0);
}

TEST_CASE("bound controls survive that their device is pulled and plugged in again, and another "
          "number of its client") {
  Studio studio;
  if (!studio)
    return;
  const auto controls =
      write_controls(studio.program, "device: studio-03:out\ncontroller 64: start-stop\n");
  const auto playing = studio.program.start(
      {"play", "A | D", "--out", "none", "--in", "none", "--controls", controls});
  REQUIRE(eventually([&] { return studio.client->is_heard(); }));
  studio.client->close();
  std::this_thread::sleep_for(milliseconds(1500));
  studio.come_back();
  CHECK(eventually([&] {
    tread(*studio.client, 64);
    return !playing->running();
  }));
  CHECK(playing->wait() == 0);
}

TEST_CASE("a control is learned in the window by moving it, and kept") {
  ScreenStudio studio;
  if (!studio)
    return;
  auto& screen = studio.screen;
  auto& client = *studio.client;
  auto window = studio.start({"A | D", "--tempo", "200", "--out", "studio", "--in", "none"});
  REQUIRE(screen.focus(*window));
  screen.press("Escape");
  screen.press("space");
  CHECK(band_falls_silent(client));
  screen.press("O");
  REQUIRE(eventually([&] { return client.is_heard(); }));
  std::this_thread::sleep_for(milliseconds(200)); // half a tread would be a latching switch
  const auto kept = [&] { return read_file(studio.program.file("config/landfall/own.controls")); };
  const auto learned = [&] {
    if (kept().find("controller 64 channel 6: start-stop") != std::string::npos)
      return true;
    screen.press("Return"); // the first row, or leaves what was not heard
    tread(client, 64);
    std::this_thread::sleep_for(milliseconds(900));
    return false;
  };
  CHECK(eventually(learned, milliseconds(20'000)));
  screen.press("Escape");
  const auto before = band_notes(client);
  CHECK(eventually([&] {
    tread(client, 64);
    std::this_thread::sleep_for(milliseconds(500));
    return band_notes(client) > before + 2;
  }));
  screen.press("ctrl+q");
  CHECK(window->wait() == 0);
  CHECK(kept().find("device: studio") != std::string::npos);
}

TEST_CASE("the shipped pads: one mutes the drums and brings them back, one stops, none is heard") {
  Studio studio;
  if (!studio)
    return;
  auto& client = *studio.client;
  constexpr int drums = 9, bass = 1, mute = 40, stop = 36;
  const auto playing =
      studio.program.start({"play", "A | D", "--tempo", "200", "--out", "studio", "--in", "studio",
                            "--controls", shipped("pads-and-knobs")});
  const auto strike = [&](int pad) {
    client.play(note_on(drums, pad, 100));
    std::this_thread::sleep_for(milliseconds(60));
    client.play(midi::note_off(drums, pad));
  };
  REQUIRE(eventually([&] { return client.is_heard() && band_notes(client) > 8; }));
  strike(mute);
  CHECK(falls_silent([&] { return notes_on(client, drums); }));
  const auto before = notes_on(client, bass);
  CHECK(eventually([&] { return notes_on(client, bass) > before; })); // the others go on
  const auto silent = notes_on(client, drums);
  strike(mute);
  CHECK(eventually([&] { return notes_on(client, drums) > silent + 4; }));
  CHECK(notes_on(client, lead_channel) == 0);
  strike(stop);
  CHECK(playing->wait() == 0);
  CHECK(hanging(client.recorded(0)).empty());
}

TEST_CASE("the shipped four switches: start, stop, the top, and another key by a long press") {
  ScreenStudio studio;
  if (!studio)
    return;
  auto& client = *studio.client;
  constexpr int a = 9, b_flat = 10, most = 6;
  auto window = studio.start({"A | A", "--tempo", "240", "--out", "studio", "--in", "studio",
                              "--controls", shipped("four-switches")});
  REQUIRE(studio.screen.focus(*window));
  REQUIRE(eventually([&] { return client.is_heard(); }));
  CHECK(eventually([&] { return notes_on(client, 1) >= 8 && bass_in_triad(client, a) >= most; }));
  hold(client, 66); // the key goes up
  CHECK(eventually([&] { return bass_in_triad(client, b_flat) >= most; }));
  hold(client, 65); // and down
  CHECK(eventually([&] { return bass_in_triad(client, a) >= most; }));
  tread(client, 64);
  CHECK(band_falls_silent(client));
  const auto before = band_notes(client);
  for (const int value : {127, 0, 127, 0}) { // twice: from the top
    client.play(control(5, 64, value));
    std::this_thread::sleep_for(milliseconds(20));
  }
  CHECK(eventually([&] { return band_notes(client) > before + 4; }));
  window->signal(SIGTERM);
  CHECK(window->wait() == 0);
  CHECK(hanging(client.recorded(0)).empty());
}
