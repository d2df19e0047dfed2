// `landfall play` as one client of a real JACK server, and an independent client that records what
// it sends and plays into it.

#include "midi/fake_output.hpp"
#include "midi/realtime.hpp"
#include "real/score.hpp"

#include <RtMidi.h>

#include <algorithm>
#include <cmath>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

constexpr int player_channel = 2;
const Command fast{"A | D", "--tempo", "400", "--seed", "7", "--choruses", "3"};
const Command song{"A | D", "--tempo", "240", "--seed", "7", "--choruses", "3"};

Command with(Command command, const Command& more) {
  command.insert(command.end(), more.begin(), more.end());
  return command;
}

void same_programs(const Heard& heard, const Score& score) {
  CHECK(heard.programs == score.programs);
}

struct Spread {
  double sd_us = 0, range_us = 0;
};

/// How far offsets lie apart, their mean left out.
Spread spread(const std::vector<double>& offsets) {
  double mean = 0, squares = 0;
  for (const double offset : offsets)
    mean += offset / static_cast<double>(offsets.size());
  for (const double offset : offsets)
    squares += (offset - mean) * (offset - mean);
  const auto [low, high] = std::minmax_element(offsets.begin(), offsets.end());
  return {std::sqrt(squares / static_cast<double>(offsets.size())), *high - *low};
}

double frame_us(std::uint64_t frame) {
  return static_cast<double>(frame) * 1e6 / 48'000;
}

/// At 400 to the minute.
double due_us(Ticks tick) {
  return static_cast<double>(tick.count) * 150'000 / static_cast<double>(ticks_per_quarter);
}

/// A client that does nothing but sleep and send, for comparison: when each message was due.
std::vector<double> send_bare(int count, Nanoseconds interval) {
  std::vector<double> due;
  std::thread([&] {
    RtMidiOut out(RtMidi::UNIX_JACK, "bare");
    for (unsigned i = 0; i < out.getPortCount(); ++i)
      if (out.getPortName(i) == "studio:in2")
        out.openPort(i);
    midi::become_realtime();
    auto deadline = Clock::now() + milliseconds(100);
    for (int i = 0; i < count; ++i, deadline += interval) {
      due.push_back(static_cast<double>(deadline.time_since_epoch().count()) / 1000);
      std::this_thread::sleep_until(deadline);
      const auto message = midi::control(0, 11, i % 128);
      out.sendMessage(message.bytes.data(), message.size);
    }
    std::this_thread::sleep_for(milliseconds(50));
    out.closePort();
    std::this_thread::sleep_for(milliseconds(100)); // as RtMidiOutput does
  }).join();
  return due;
}

Spread spread_of_bare(const std::vector<Recorded>& recorded, const std::vector<double>& due) {
  REQUIRE(recorded.size() == due.size());
  std::vector<double> offsets;
  for (std::size_t i = 0; i < due.size(); ++i)
    offsets.push_back(frame_us(recorded[i].frame) - due[i]);
  return spread(offsets);
}

std::vector<std::string> notes_on(const std::vector<Recorded>& recorded, int channel) {
  std::vector<std::string> notes;
  for (const auto& entry : recorded)
    if (midi::is_note_on(entry.message) && midi::channel_of(entry.message) == channel)
      notes.push_back(midi::test::text(entry.message));
  return notes;
}

constexpr int probe = 40;

bool is_probe(const std::string& note) {
  return note.find(" " + std::to_string(probe) + " ") != std::string::npos;
}

/// Plays a note and tells whether it sounded: a port is seen a little before its notes are passed
/// on.
bool is_heard(JackClient& client) {
  client.play(midi::note_on(0, probe, 64));
  client.play(midi::note_off(0, probe));
  const auto sounded = notes_on(client.recorded(0), player_channel);
  return std::any_of(sounded.begin(), sounded.end(), is_probe);
}

/// Notes and bends, and the notes as texts.
std::vector<std::string> play_into_the_take(JackClient& client) {
  REQUIRE(eventually([&] { return client.connect_from("Landfall.*:out", midi_type, "in1") == 1; }));
  REQUIRE(eventually([&] { return client.connect("studio:out", "Landfall.*:in") == 1; }));
  REQUIRE(eventually([&] { return is_heard(client); }));
  REQUIRE(eventually([&] { // a take begins with the count-in
    return !heard(client.recorded(0), player_channel).notes.empty();
  }));
  std::vector<std::string> played;
  for (int i = 0; i < 24; ++i) {
    const auto on = midi::note_on(0, 50 + i, 60 + i);
    played.push_back(midi::test::text(on));
    client.play(on);
    client.play(midi::bend(0, 100 * i));
    std::this_thread::sleep_for(milliseconds(50));
    client.play(midi::note_off(0, 50 + i));
  }
  return played;
}

} // namespace

TEST_CASE("all that is sent to a port is what export says, in its order, chorus after chorus") {
  Studio studio;
  if (!studio)
    return;
  const auto score = exported(studio, with(fast, {"--count-in"}));
  REQUIRE(score.notes() > 200);
  std::vector<double> bare_due;
  const auto play = studio.play_whole(
      with(with({"play"}, fast), {"--out", "studio:in1", "--in", "none"}), [&](Child&) {
        REQUIRE(eventually([&] { return studio.client->count(0) > 8; }));
        bare_due = send_bare(40, milliseconds(75)); // while the song plays
      });
  CHECK(play->err().empty());

  const auto came = heard(studio.client->recorded(0), player_channel);
  const auto times = follow(came, score);
  same_programs(came, score);
  CHECK(hanging(studio.client->recorded(0)).empty());

  std::vector<double> offsets, first, second;
  const Ticks bar = quarter * 4, chorus = bar * 2;
  for (const auto& [frame, at] : times) {
    offsets.push_back(frame_us(frame) - due_us(at));
    if (at < bar + chorus)
      first.push_back(offsets.back());
    else if (at < bar + chorus * 2)
      second.push_back(offsets.back());
  }
  const auto mean = [](const std::vector<double>& all) {
    double sum = 0;
    for (const double one : all)
      sum += one / static_cast<double>(all.size());
    return sum;
  };
  const auto us = spread(offsets);
  const auto bare = spread_of_bare(studio.client->recorded(1), bare_due);
  MESSAGE("offsets in us, standard deviation and range: landfall "
          << us.sd_us << ", " << us.range_us << "; bare client " << bare.sd_us << ", "
          << bare.range_us << "; second chorus against the first: " << mean(second) - mean(first));
}

TEST_CASE("virtual ports: the band is sent, and what is played in sounds and is on the take") {
  Studio studio;
  if (!studio)
    return;
  const auto score = exported(studio, with(song, {"--count-in"}));
  const auto take = studio.program.file("take.mid");
  std::vector<std::string> played, taken;
  studio.play_whole(with(with({"play"}, song), {"--count-in", "1", "--out", "virtual", "--in",
                                                "virtual", "--take", take}),
                    [&](Child&) { played = play_into_the_take(*studio.client); });

  const auto recorded = studio.client->recorded(0);
  auto thru = notes_on(recorded, player_channel);
  for (auto& note : thru)
    note = "on 0" + note.substr(4); // they come on the channel of the player's sound
  std::erase_if(thru, is_probe);
  CHECK(thru == played);
  CHECK(hanging(recorded).empty());

  // Whoever connects late may miss clicks of the count-in, but nothing behind it.
  auto came = heard(recorded, player_channel);
  const auto form = score.from(quarter * 4);
  REQUIRE(came.notes.size() >= form.notes());
  came.notes.erase(came.notes.begin(),
                   came.notes.end() - static_cast<std::ptrdiff_t>(form.notes()));
  follow(came, form);

  const auto file = read_song(take);
  REQUIRE(!file.tracks.empty());
  CHECK(file.tracks.back().name() == "player");
  int bends = 0;
  Ticks last;
  for (const auto& event : file.tracks.back().events)
    if (const auto* message = std::get_if<midi::ShortMessage>(&event.content)) {
      CHECK(event.at >= last);
      last = event.at;
      bends += midi::status_of(*message) == midi::Status::bend ? 1 : 0;
      if (midi::is_note_on(*message))
        taken.push_back(midi::test::text(*message));
    }
  std::erase_if(taken, is_probe);
  CHECK(taken == played);
  CHECK(bends == 24);
  CHECK(last > quarter * 4);
}
