// The MIDI layer against a real JACK server and an independent client of it.

#include "midi/fake_output.hpp"
#include "midi/input_reader.hpp"
#include "midi/jack_client.hpp"
#include "midi/jack_server.hpp"
#include "midi/rtmidi_ports.hpp"
#include "midi/sound_servers.hpp"
#include "midi/synth.hpp"

#include <RtMidi.h>
#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <functional>
#include <thread>

using namespace landfall;
using namespace landfall::midi;
using landfall::midi::test::JackClient;
using landfall::midi::test::JackServer;
using landfall::midi::test::Recorded;
using std::chrono::milliseconds;

namespace {

/// The server, one for all tests, and an independent client; or the reason to skip.
struct Studio {
  Studio() : server(the_server()), client("studio") {
    if (!server.running())
      MESSAGE("skipped: " << server.problem());
    else
      REQUIRE(client.running());
  }
  explicit operator bool() const { return server.running(); }

  static JackServer& the_server() {
    static JackServer one;
    return one;
  }

  JackServer& server;
  JackClient client;
};

/// Waits for what other programs do.
bool eventually(const std::function<bool()>& holds, milliseconds limit = milliseconds(5000)) {
  for (int i = 0; i < limit / milliseconds(10); ++i) {
    if (holds())
      return true;
    std::this_thread::sleep_for(milliseconds(10));
  }
  return holds();
}

std::vector<test::Sent> as_sent(const std::vector<Recorded>& recorded) {
  std::vector<test::Sent> sent;
  for (const auto& entry : recorded)
    sent.push_back({entry.message, {}});
  return sent;
}

/// Two bars of eighths on two channels, with a controller between.
Chunk two_bars(std::int64_t from) {
  Chunk chunk{{from}, {from + 8 * 960}, {}};
  for (int i = 0; i < 16; ++i) {
    const Ticks at{from + i * 480};
    chunk.messages.push_back({at, {240}, note_on(0, 40 + i, 80)});
    chunk.messages.push_back({at, {480}, note_on(1, 60 + i % 4, 70)});
    chunk.messages.push_back({at + Ticks{360}, {}, control(1, 11, i)});
  }
  return chunk;
}

/// The order in which two_bars must arrive.
std::vector<ShortMessage> expected_two_bars(bool first) {
  std::vector<ShortMessage> all;
  for (int i = 0; i < 16; ++i) {
    if (i > 0 || !first)
      all.push_back(note_off(1, 60 + (i + 3) % 4));
    all.push_back(note_on(0, 40 + i, 80));
    all.push_back(note_on(1, 60 + i % 4, 70));
    all.push_back(note_off(0, 40 + i));
    all.push_back(control(1, 11, i));
  }
  return all;
}

struct Spread {
  double sd_us = 0;
  double range_us = 0;
};

/// How far arrival and deadline lie apart, the mean left out: frames of 1/48000 s.
Spread spread(const std::vector<std::pair<double, double>>& arrived_and_due_us) {
  std::vector<double> offsets;
  double mean = 0;
  for (const auto& [arrived, due] : arrived_and_due_us)
    offsets.push_back(arrived - due);
  for (const double offset : offsets)
    mean += offset / static_cast<double>(offsets.size());
  double squares = 0;
  for (const double offset : offsets)
    squares += (offset - mean) * (offset - mean);
  const auto [low, high] = std::minmax_element(offsets.begin(), offsets.end());
  return {std::sqrt(squares / static_cast<double>(offsets.size())), *high - *low};
}

double microseconds(TimePoint time) {
  return static_cast<double>(time.time_since_epoch().count()) / 1000;
}

double microseconds(const Recorded& recorded) {
  return static_cast<double>(recorded.frame) * 1e6 / 48'000;
}

/// A client that does nothing but sleep and send, for comparison.
std::vector<TimePoint> send_bare(int count, Nanoseconds interval) {
  std::vector<TimePoint> due;
  RtMidiOut out(RtMidi::UNIX_JACK, "bare");
  for (unsigned i = 0; i < out.getPortCount(); ++i)
    if (out.getPortName(i) == "studio:in2")
      out.openPort(i);
  std::thread([&] {
    become_realtime();
    auto deadline = Clock::now() + milliseconds(100);
    for (int i = 0; i < count; ++i, deadline += interval) {
      due.push_back(deadline);
      std::this_thread::sleep_until(deadline);
      const auto message = control(0, 11, i % 128);
      out.sendMessage(message.bytes.data(), message.size);
    }
  }).join();
  std::this_thread::sleep_for(milliseconds(50));
  out.closePort();
  std::this_thread::sleep_for(milliseconds(100)); // as RtMidiOutput does
  return due;
}

} // namespace

TEST_CASE("ports are listed, found by part of their names, and seen to come and go") {
  Studio studio;
  if (!studio)
    return;
  PortWatcher watcher;
  watcher.poll();
  const PortInfo in{"studio:in1", "jack"};
  const auto& outputs = watcher.ports().outputs;
  CHECK(std::find(outputs.begin(), outputs.end(), in) != outputs.end());
  CHECK_FALSE(RtMidiOutput::open("no port of this name"));
  const auto output = RtMidiOutput::open("DIO:IN1");
  REQUIRE(output);
  CHECK(output->port() == in);
  CHECK_FALSE(watcher.poll().any()); // our own ports are not offered
  studio.client.close();
  const auto changes = watcher.poll();
  CHECK(changes.appeared == PortLists{});
  CHECK(changes.vanished.outputs.size() == 2);
  CHECK(changes.vanished.inputs.size() == 1);
}

TEST_CASE(
    "to ask for ports again costs the server no client; one that hangs is silent till it goes on") {
  Studio studio;
  if (!studio)
    return;
  const auto first = ask_jack({});
  CHECK(first.state == ServerState::present);
  std::atomic<int> comings{0};
  jack_client_t* witness = jack_client_open("witness", JackNoStartServer, nullptr);
  REQUIRE(witness != nullptr);
  jack_set_client_registration_callback(
      witness, [](const char*, int, void* count) { ++*static_cast<std::atomic<int>*>(count); },
      &comings);
  jack_activate(witness);
  std::this_thread::sleep_for(milliseconds(200));
  const int before = comings;
  for (int i = 0; i < 5; ++i) {
    std::this_thread::sleep_for(milliseconds(200));
    const auto answer = ask_jack({"studio:out", "studio:in1"});
    CHECK(answer.state == ServerState::present);
    CHECK(answer.loose.size() == 2);
    CHECK(answer.ports.inputs == first.ports.inputs);
    CHECK(answer.server == first.server);
  }
  CHECK(comings == before);
  jack_client_close(witness);

  studio.server.freeze(true);
  std::this_thread::sleep_for(milliseconds(200));
  ask_jack({}); // since when, it can't know yet
  std::this_thread::sleep_for(milliseconds(200));
  CHECK(ask_jack({}).state == ServerState::silent);
  CHECK(ask_jack({}).state == ServerState::silent);
  studio.server.freeze(false);
  CHECK(eventually([] { return probe_jack() == ServerState::present; }));
  CHECK(ask_jack({}).server == first.server);
}

TEST_CASE("a loop arrives whole and in order; its spread beside a bare client's") {
  Studio studio;
  if (!studio)
    return;
  Latest<Transport> transport;
  auto expected = expected_two_bars(true);
  const auto second = expected_two_bars(false);
  expected.insert(expected.end(), second.begin(), second.end());
  std::vector<TimePoint> bare_due;
  std::size_t before = 0, bare_before = 0;
  bool is_whole = false;
  for (int i = 0; i < 5 && !is_whole; ++i) { // a machine that holds it up makes it skip notes
    std::this_thread::sleep_for(milliseconds(100));
    before = studio.client.count(0);
    bare_before = studio.client.count(1);
    Sender sender(RtMidiOutput::open("studio:in1"), transport);
    sender.submit(two_bars(0));
    sender.submit(two_bars(8 * 960));
    transport.publish(test::rolling({0}, Clock::now() + milliseconds(50), tempo_from_bpm(240)));
    sender.wake();
    bare_due = send_bare(32, milliseconds(125)); // while the loop plays
    is_whole = eventually([&] { return studio.client.count(0) > before + expected.size(); },
                          milliseconds(2000)) &&
               sender.report().drops == 0;
    sender.stop();
  }
  REQUIRE(is_whole);

  auto recorded = studio.client.recorded(0);
  recorded.erase(recorded.begin(), recorded.begin() + static_cast<std::ptrdiff_t>(before));
  REQUIRE(recorded.size() >= expected.size());
  std::vector<std::pair<double, double>> ours;
  const auto line = transport.read();
  for (std::size_t i = 0; i < expected.size(); ++i) {
    CAPTURE(i);
    REQUIRE(test::text(recorded[i].message) == test::text(expected[i]));
    if (status_of(expected[i]) == Status::control) {
      const Ticks at{static_cast<std::int64_t>(ours.size()) * 480 + 360};
      ours.emplace_back(microseconds(recorded[i]), microseconds(line.time_at(at)));
    }
  }
  auto bare_recorded = studio.client.recorded(1);
  bare_recorded.erase(bare_recorded.begin(),
                      bare_recorded.begin() + static_cast<std::ptrdiff_t>(bare_before));
  REQUIRE(bare_recorded.size() == bare_due.size());
  std::vector<std::pair<double, double>> bare;
  for (std::size_t i = 0; i < bare_due.size(); ++i)
    bare.emplace_back(microseconds(bare_recorded[i]), microseconds(bare_due[i]));
  const auto us = spread(ours);
  const auto it = spread(bare);
  MESSAGE("offsets, standard deviation and range in us: sender "
          << us.sd_us << ", " << us.range_us << "; bare client " << it.sd_us << ", "
          << it.range_us);
}

TEST_CASE("nothing hangs after stop, after a lost connection, and at the sender's end") {
  Studio studio;
  if (!studio)
    return;
  auto& client = studio.client;
  Latest<Transport> transport;
  auto sender = std::make_unique<Sender>(RtMidiOutput::open("studio:in1"), transport);
  const auto hold = [&](int key) {
    const auto sounds = [&] { return !test::hanging(as_sent(client.recorded(0))).empty(); };
    for (int i = 0; i < 5 && !sounds(); ++i) { // a thread that is held up skips a late note
      sender->stop();
      sender->submit({{0}, {960'000}, {{{0}, {960'000}, note_on(0, key, 90)}}});
      transport.publish(test::rolling({0}, Clock::now(), tempo_from_bpm(120)));
      sender->wake();
      eventually(sounds, milliseconds(1000));
    }
    return sounds();
  };
  const auto silent = [&] {
    return eventually([&] { return test::hanging(as_sent(client.recorded(0))).empty(); });
  };
  REQUIRE(hold(60));
  CHECK_FALSE(test::hanging(as_sent(client.recorded(0))).empty());
  sender->stop();
  CHECK(silent());

  REQUIRE(hold(61));
  client.disconnect("in1");
  CHECK(client.connect_from("Landfall.*", JACK_DEFAULT_MIDI_TYPE, "in1") == 1);
  sender->stop();
  CHECK(silent());

  REQUIRE(hold(62));
  sender.reset();
  CHECK(silent());
}

TEST_CASE("the other side closes its port: the sender neither blocks nor fails") {
  Studio studio;
  if (!studio)
    return;
  Latest<Transport> transport;
  auto output = RtMidiOutput::open("studio:in1");
  const auto* port = output.get();
  auto sender = std::make_unique<Sender>(std::move(output), transport);
  sender->submit(two_bars(0));
  transport.publish(test::rolling({0}, Clock::now(), tempo_from_bpm(400)));
  sender->wake();
  REQUIRE(eventually([&] { return studio.client.count(0) > 5; }));
  studio.client.close();
  CHECK(eventually([&] { // but for what a busy machine made it skip
    const auto report = sender->report();
    return report.lateness.events + 2 * report.drops >= 80;
  }));
  CHECK(eventually([&] { return sender->blocked_for(Clock::now()) == Nanoseconds{0}; }));
  CHECK(port->failures() == 0);
}

TEST_CASE("an input stamps what comes and passes it through to a sender") {
  Studio studio;
  if (!studio)
    return;
  auto& client = studio.client;
  Latest<Transport> transport;
  Sender sender(RtMidiOutput::open("studio:in1"), transport);
  auto& lane = sender.thru(0);
  lane.map.publish(folded_thru(5));
  lane.open = true;
  const auto input = RtMidiInput::open("studio:out");
  REQUIRE(input);
  input->set_thru(&sender, 0);
  const auto before = Clock::now();
  for (int i = 0; i < 20; ++i) {
    client.play(note_on(0, 50 + i, 90));
    client.play(note_on(0, 50 + i, 0));
  }
  CHECK(eventually([&] { return client.count(0) == 40; }));
  InputReader reader;
  StampedMessage stamped;
  auto last = before;
  for (int i = 0; i < 40; ++i) {
    REQUIRE(eventually([&] { return input->pop(stamped); }));
    CHECK(stamped.time >= last);
    last = stamped.time;
    const auto events = reader.read(stamped);
    REQUIRE(events.size() == 1);
    REQUIRE(std::holds_alternative<NoteEvent>(events[0]));
    CHECK(std::get<NoteEvent>(events[0]).on == (i % 2 == 0));
    CHECK(std::get<NoteEvent>(events[0]).note == 50 + i / 2);
  }
  CHECK(last <= Clock::now());
  CHECK(test::hanging(as_sent(client.recorded(0))).empty());
  CHECK(channel_of(client.recorded(0).front().message) == 5);
  input->set_thru(nullptr, 0);
}

TEST_CASE("virtual ports: others connect to us") {
  Studio studio;
  if (!studio)
    return;
  const auto input = RtMidiInput::open_virtual("play here");
  Latest<Transport> transport;
  auto output = RtMidiOutput::open_virtual("band");
  REQUIRE(input);
  REQUIRE(output);
  Sender sender(std::move(output), transport);
  REQUIRE(studio.client.connect_from("Landfall.*:band", JACK_DEFAULT_MIDI_TYPE, "in1") == 1);
  sender.send_now(note_on(3, 60, 90), Clock::now());
  CHECK(eventually([&] { return studio.client.count(0) == 1; }));
}

TEST_CASE("the built-in synth through JACK: it sounds, does not clip, and falls silent") {
  Studio studio;
  if (!studio || !has_synth())
    return;
  auto start = start_synth({});
  if (start.status.find("sound font") != std::string::npos) {
    MESSAGE("skipped: " << start.status);
    return;
  }
  REQUIRE(start.sounding);
  CHECK(start.status == "built-in synth on jack");
  for (const auto* side : {"audio1", "audio2"})
    CHECK(studio.client.connect_from("Landfall.*", JACK_DEFAULT_AUDIO_TYPE, side) == 2);
  Latest<Transport> transport;
  Sender sender(std::move(start.output), transport);
  CHECK(eventually([&] { return start.idle_for(Clock::now()) < milliseconds(100); }));
  auto chunk = two_bars(0);
  for (int i = 0; i < 16; ++i)
    for (const int drum : {36, 42})
      chunk.messages.push_back({{i * 480}, {100}, note_on(9, drum, 110)});
  std::stable_sort(chunk.messages.begin(), chunk.messages.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  sender.submit(std::move(chunk));
  studio.client.take_peak();
  transport.publish(test::rolling({0}, Clock::now(), tempo_from_bpm(240)));
  sender.wake();
  float peak = 0;
  CHECK(eventually([&] {
    peak = std::max(peak, studio.client.take_peak());
    return sender.report().lateness.events > 50;
  }));
  CHECK(peak > 0.02F);
  CHECK(peak < 1.0F);
  CHECK(sender.report().drops == 0);
  REQUIRE(start.xruns);
  MESSAGE("xruns " << start.xruns());
  sender.stop();
  sender.panic();
  CHECK(eventually([&] { return studio.client.take_peak() < 1e-3F; }));
}
