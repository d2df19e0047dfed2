// MIDI clock to and from programs that are not ours: jack_mclk_dump reads what we send,
// jack_midi_clock sends what we follow (Debian's package jack-midi-clock).

#include "midi/clock_out.hpp"
#include "midi/fake_output.hpp"
#include "real/score.hpp"
#include "real/transport.hpp"

#include <algorithm>
#include <csignal>
#include <cstdlib>
#include <limits>
#include <span>
#include <sstream>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

constexpr auto clocks_per_sixteenth = 6;
constexpr double tempo = 180;

bool is_missing(const char* program) {
  if (midi::test::is_installed(program))
    return false;
  MESSAGE("skipped: " << program << " is not installed");
  return true;
}

/// The reader's own count at each clock from start to stop, "bar|beat|sixteenth"; it has none yet
/// at the first.
std::vector<std::string> places(const std::string& dump) {
  std::vector<std::string> all;
  std::istringstream lines(dump.substr(dump.find("start")));
  for (std::string line; std::getline(lines, line) && line.find("stop") == std::string::npos;) {
    std::istringstream words(line.substr(0, line.rfind('@')));
    std::string word, last;
    while (words >> word)
      last = word;
    if (line.starts_with("CLK"))
      all.push_back(last);
  }
  return all;
}

std::ptrdiff_t clocks_before_start(const std::string& dump) {
  std::istringstream lines(dump);
  std::ptrdiff_t count = 0;
  for (std::string line; std::getline(lines, line) && line.find("start") == std::string::npos;)
    count += line.starts_with("CLK") ? 1 : 0;
  return count;
}

std::vector<std::string> expected(int bars) {
  std::vector<std::string> all;
  for (int i = 0; i < bars * 16 * clocks_per_sixteenth; ++i) {
    const int sixteenth = i / clocks_per_sixteenth;
    all.push_back(std::to_string(sixteenth / 16 + 1) + "|" + std::to_string(sixteenth / 4 % 4 + 1) +
                  "|" + std::to_string(sixteenth % 4));
  }
  return all;
}

std::ptrdiff_t note_ons(const JackClient& client) {
  const auto all = client.recorded(0);
  return std::count_if(all.begin(), all.end(),
                       [](const auto& each) { return midi::is_note_on(each.message); });
}

/// When the clocks came since this message; nothing where it did not come.
std::vector<std::uint64_t> clocks_since(const std::vector<Recorded>& recorded,
                                        std::uint8_t status) {
  const auto is = [](std::uint8_t wanted) {
    return [wanted](const Recorded& each) { return each.message.bytes[0] == wanted; };
  };
  std::vector<std::uint64_t> frames;
  for (auto each = std::find_if(recorded.begin(), recorded.end(), is(status));
       each != recorded.end(); ++each)
    if (is(midi::clock_byte)(*each))
      frames.push_back(each->frame);
  return frames;
}

/// The place that was told last.
Ticks song_position(const std::vector<Recorded>& recorded) {
  Ticks place{};
  for (const auto& [frame, message] : recorded)
    if (message.bytes[0] == midi::song_position_byte)
      place = sixteenth * (message.bytes[1] + 128 * message.bytes[2]);
  return place;
}

/// When each note began, and where in the song; fails the test where it is another note than the
/// score's.
std::vector<std::pair<std::uint64_t, Ticks>> begun(const std::vector<Recorded>& recorded,
                                                   const Score& score) {
  std::vector<Recorded> notes;
  std::copy_if(recorded.begin(), recorded.end(), std::back_inserter(notes),
               [](const auto& each) { return midi::is_note_on(each.message); });
  std::vector<std::pair<std::uint64_t, Ticks>> times;
  for (const auto& moment : score.moments) {
    const auto rest = std::span(notes).subspan(times.size());
    if (!moment.on || rest.size() < moment.notes.size())
      continue;
    std::vector<std::string> came;
    for (const auto& note : rest.first(moment.notes.size())) {
      came.push_back(midi::test::text(note.message));
      times.emplace_back(note.frame, moment.at);
    }
    std::sort(came.begin(), came.end());
    CAPTURE(moment.at.count);
    REQUIRE(came == moment.notes);
  }
  return times;
}

/// When a busy machine's server first lost so much time that a clock came one too late.
std::uint64_t even_until(const std::vector<std::uint64_t>& clocks) {
  const double period = 48'000 * 60 / tempo / 24;
  for (std::size_t i = 0; i < clocks.size(); ++i)
    if (static_cast<double>(clocks[i] - clocks[0]) > period * static_cast<double>(i + 1))
      return clocks[i];
  return std::numeric_limits<std::uint64_t>::max();
}

/// From the second beat on, notes lie among the clocks where they belong. One in ten may be held up
/// on its way.
void check_places(const std::vector<std::pair<std::uint64_t, Ticks>>& notes,
                  const std::vector<std::uint64_t>& clocks, Ticks begin) {
  std::size_t judged = 0, near = 0;
  std::int64_t worst = 0;
  for (const auto& [frame, tick] : notes) {
    if (tick < begin + quarter || frame >= even_until(clocks))
      continue;
    const auto before = std::upper_bound(clocks.begin(), clocks.end(), frame) - clocks.begin();
    const auto off = std::abs(floor_div(tick - begin, midi::clock_step) + 1 - before);
    ++judged;
    near += off <= 2 ? 1U : 0U;
    worst = std::max(worst, off);
  }
  CHECK(near * 10 >= judged * 9);
  MESSAGE(near << " of " << judged << " notes (" << notes.size() << " came) within two clocks of "
               << "their place, the worst " << worst << " off");
}

/// Waits until a program of this name that ran before has gone.
Command alone(const Studio& studio, Command command) {
  REQUIRE(eventually([&] { return !studio.client->sees(command.front() + ":.*"); }));
  return command;
}

/// The band follows jack_midi_clock, which is heard beside it.
struct Follower {
  Follower(const Studio& studio, const Command& song)
      : transport(tempo),
        clock(alone(studio, {"jack_midi_clock", "-d", "1"}), studio.program.folder()) {
    REQUIRE(transport.running());
    REQUIRE(eventually(
        [&] { return studio.client->connect_from("jack_midi_clock:.*", midi_type, "in2") == 1; }));
    Command command{"play"};
    command.insert(command.end(), song.begin(), song.end());
    command.insert(command.end(), {"--follow-clock", "jack_midi_clock:mclk_out", "--out",
                                   "studio:in1", "--in", "none", "--timing"});
    play = studio.program.start(command);
    REQUIRE(eventually([&] { return studio.client->listeners("jack_midi_clock:mclk_out") == 2; }));
  }

  JackTransport transport;
  Child clock;
  std::unique_ptr<Child> play;
};

/// Lets the transport run from a bar until so many notes were heard, until a performance was whole.
/// Tells the song position at which it went on.
Ticks lead(Studio& studio, const Command& song, int bar, int notes) {
  for (int i = 0; i < performances; ++i) {
    studio.come_back();
    Follower follower(studio, song);
    if (bar > 1) {
      follower.transport.go_to(bar);
      REQUIRE(eventually([&] { // that of a second later, when it will go on
        return song_position(studio.client->recorded(1)) >= quarter * 4 * (bar - 1);
      }));
    }
    follower.transport.start();
    CHECK(eventually([&] { return note_ons(*studio.client) > notes; }));
    const auto place = song_position(studio.client->recorded(1));
    follower.transport.stop();
    CHECK(follower.play->wait() == 0);
    CHECK(follower.play->err().empty());
    CHECK(hanging(studio.client->recorded(0)).empty());
    if (is_whole(*follower.play))
      return place;
  }
  FAIL("no performance was whole");
  return {};
}

} // namespace

TEST_CASE("another program reads start, stop and 24 clocks to the quarter") {
  Studio studio;
  if (!studio || is_missing("jack_mclk_dump"))
    return;
  std::unique_ptr<Child> reader;
  std::string read;
  for (int i = 0; i < performances && read.empty(); ++i) {
    reader.reset();
    reader =
        std::make_unique<Child>(alone(studio, {"jack_mclk_dump", "-n"}), studio.program.folder());
    REQUIRE(eventually([&] { return studio.client->sees("jack_mclk_dump:.*"); }));
    const auto play =
        studio.program.start({"play", "A | D", "--tempo", "300", "--choruses", "1", "--send-clock",
                              "--out", "jack_mclk_dump:mclk_in", "--in", "none", "--timing"});
    CHECK(play->wait(std::chrono::seconds(20)) == 0);
    std::this_thread::sleep_for(milliseconds(300)); // it writes a little later than it hears
    reader->signal(SIGINT);
    CHECK(reader->wait() != still_running);
    CHECK(play->err().empty());
    if (is_whole(*play))
      read = reader->out();
  }
  INFO(read.substr(0, 2000));
  REQUIRE(read.find("start") < read.find("stop"));
  CHECK(clocks_before_start(read) >= 4 * 24 - 16); // the count-in, but for what a late start leaves
  const auto all = places(read), wanted = expected(2);
  REQUIRE(all.size() >= wanted.size());
  CHECK(std::equal(wanted.begin() + 1, wanted.end(), all.begin() + 1));
}

TEST_CASE("the band starts, keeps its place and stops with another program's clock") {
  Studio studio;
  if (!studio || is_missing("jack_midi_clock"))
    return;
  const Command song{"A | D | E | G", "--tempo", "90", "--choruses", "3"};
  lead(studio, song, 1, 50);
  const auto clocks = clocks_since(studio.client->recorded(1), midi::start_byte);
  check_places(begun(studio.client->recorded(0), exported(studio, song)), clocks, Ticks{});
}

TEST_CASE("the band goes on from another program's song position") {
  Studio studio;
  if (!studio || is_missing("jack_midi_clock"))
    return;
  const Command song{"A | D | E | G", "--tempo", "90", "--choruses", "3"};
  const auto place = lead(studio, song, 3, 30);
  const auto clocks = clocks_since(studio.client->recorded(1), midi::continue_byte);
  check_places(begun(studio.client->recorded(0), exported(studio, song).from(place)), clocks,
               place);
}
