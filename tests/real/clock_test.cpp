// MIDI clock to and from the program, on real JACK ports. The wobble of what follows is reported,
// not asserted: it is that of the machine too.

#include "midi/clock_out.hpp"
#include "midi/realtime.hpp"
#include "real/score.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

bool is(const Recorded& recorded, std::uint8_t status) {
  return recorded.message.size > 0 && recorded.message.bytes[0] == status;
}

std::ptrdiff_t count(const std::vector<Recorded>& recorded, std::uint8_t status) {
  return std::count_if(recorded.begin(), recorded.end(),
                       [&](const auto& each) { return is(each, status); });
}

void say(JackClient& client, std::uint8_t status) {
  client.play({{status}, 1});
}

/// Sends clocks, each off its time by up to 2 ms.
void send_clocks(JackClient& client, int clocks, double beats_per_minute) {
  std::thread([&] {
    midi::become_realtime();
    std::mt19937 random(1);
    std::uniform_real_distribution<double> jitter(0, 0.004);
    const auto begin = Clock::now();
    for (int i = 0; i < clocks; ++i) {
      const double seconds = i * 60 / beats_per_minute / 24 + jitter(random);
      std::this_thread::sleep_until(
          begin + std::chrono::duration_cast<Nanoseconds>(std::chrono::duration<double>(seconds)));
      say(client, midi::clock_byte);
    }
  }).join();
}

std::vector<Recorded> onsets(const std::vector<Recorded>& recorded) {
  std::vector<Recorded> notes;
  std::copy_if(recorded.begin(), recorded.end(), std::back_inserter(notes),
               [](const auto& each) { return midi::is_note_on(each.message); });
  return notes;
}

std::vector<Ticks> onsets(const Score& score) {
  std::vector<Ticks> ticks;
  for (const auto& moment : score.moments)
    if (moment.on)
      ticks.insert(ticks.end(), moment.notes.size(), moment.at);
  return ticks;
}

} // namespace

TEST_CASE("what is sent has 24 clocks to the quarter, in their places among the notes") {
  Studio studio;
  if (!studio)
    return;
  const auto play = studio.play_whole({"play", "A | D", "--tempo", "400", "--choruses", "2",
                                       "--send-clock", "--out", "studio:in1", "--in", "none"});
  CHECK(play->err().empty());
  const auto came = studio.client->recorded(0);
  CHECK(count(came, midi::start_byte) == 1);
  CHECK(count(came, midi::stop_byte) == 1);
  CHECK(count(came, midi::continue_byte) == 0);
  const auto start = std::find_if(came.begin(), came.end(),
                                  [](const auto& each) { return is(each, midi::start_byte); });
  REQUIRE(start != came.end());
  // a bar of count-in, of which a thread that starts late may leave out the first ones
  CHECK(count({came.begin(), start}, midi::clock_byte) >= 96 - 16);
  CHECK(count({start, came.end()}, midi::clock_byte) >= 16 * 24);
  const auto ticks = onsets(exported(studio, {"A | D", "--tempo", "300", "--choruses", "2"}));
  const auto notes = onsets({start, came.end()});
  REQUIRE(notes.size() == ticks.size());
  std::size_t note = 0, wrong = 0;
  std::int64_t clocks = 0;
  for (auto each = start; each != came.end(); ++each)
    if (is(*each, midi::clock_byte))
      ++clocks;
    else if (midi::is_note_on(each->message))
      wrong += clocks == floor_div(ticks[note++], midi::clock_step) + 1 ? 0U : 1U;
  CHECK(wrong == 0);
  CHECK(hanging(came).empty());
}

TEST_CASE("the band starts, keeps the tempo and stops with a clock that jitters by 2 ms") {
  Studio studio;
  if (!studio)
    return;
  constexpr double tempo = 176;
  const auto lead = [&](Child&) {
    REQUIRE(eventually([&] { return studio.client->is_heard(); }));
    std::this_thread::sleep_for(milliseconds(300));    // a port is seen before it is listened to
    CHECK(onsets(studio.client->recorded(0)).empty()); // it waits
    send_clocks(*studio.client, 24, tempo);
    say(*studio.client, midi::start_byte);
    send_clocks(*studio.client, 24 * 12, tempo);
    say(*studio.client, midi::stop_byte);
  };
  const auto play = studio.play_whole({"play", "A | D", "--tempo", "90", "--follow-clock",
                                       "studio:out", "--out", "studio:in1", "--in", "none"},
                                      lead);
  CHECK(play->err().empty());

  const auto came = studio.client->recorded(0);
  CHECK(hanging(came).empty());
  const auto notes = onsets(came);
  auto ticks = onsets(exported(studio, {"A | D", "--tempo", "90", "--choruses", "3"}));
  REQUIRE(notes.size() > 45);
  REQUIRE(notes.size() <= ticks.size());
  ticks.resize(notes.size());
  CHECK(ticks.back() > quarter * 11);
  CHECK(ticks.back() < quarter * 13);
  const auto seconds = [&](std::size_t i) { return static_cast<double>(notes[i].frame) / 48'000; };
  const double whole = seconds(notes.size() - 1) - seconds(0);
  const double due = static_cast<double>((ticks.back() - ticks.front()).count) / 960 * 60 / tempo;
  CHECK(whole / due == doctest::Approx(1).epsilon(0.02));
  std::vector<double> late_ms; // against the clock's true line, as far as it is the same for all
  for (std::size_t i = 0; i < notes.size(); ++i)
    if (ticks[i] >= quarter * 2) {
      const double line = static_cast<double>(ticks[i].count) / 960 * 60 / tempo;
      late_ms.push_back((seconds(i) - seconds(0) - line) * 1000);
    }
  std::sort(late_ms.begin(), late_ms.end());
  const auto at = [&](std::size_t percent) {
    return late_ms[(late_ms.size() - 1) * percent / 100];
  };
  MESSAGE("two beats in, notes against the clock's line, ms about their median: 10 % at "
          << at(10) - at(50) << ", 90 % at " << at(90) - at(50) << ", first " << at(0) - at(50)
          << ", last " << at(100) - at(50));
}

TEST_CASE("it goes on through a drop-out of the clock") {
  Studio studio;
  if (!studio)
    return;
  const auto play = studio.program.start(
      {"play", "A | D", "--follow-clock", "studio:out", "--out", "studio:in1", "--in", "none"});
  REQUIRE(eventually([&] { return studio.client->is_heard(); }));
  std::this_thread::sleep_for(milliseconds(300));
  say(*studio.client, midi::start_byte);
  send_clocks(*studio.client, 24 * 4, 200);
  const auto before = onsets(studio.client->recorded(0)).size();
  std::this_thread::sleep_for(milliseconds(1200)); // four beats
  const auto meanwhile = onsets(studio.client->recorded(0)).size();
  CHECK(meanwhile > before + 8);
  send_clocks(*studio.client, 24 * 4, 200);
  CHECK(onsets(studio.client->recorded(0)).size() > meanwhile + 8);
  say(*studio.client, midi::stop_byte);
  CHECK(play->wait(std::chrono::seconds(10)) == 0);
  CHECK(hanging(studio.client->recorded(0)).empty());
}
