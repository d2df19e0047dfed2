// No note hangs, however playing ends, and nothing that others do to their ports ends it.

#include "midi/fake_output.hpp"
#include "real/score.hpp"

#include <csignal>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

using Playing = std::unique_ptr<Child>;

/// Plays without end into the client.
Playing start(const Studio& studio, const Command& more = {"--in", "none"}) {
  Command command{"play", "A | D", "--tempo", "400", "--out", "studio:in1"};
  command.insert(command.end(), more.begin(), more.end());
  return studio.program.start(command);
}

/// Waits for the band to play, and for a moment at which notes sound.
bool sounds(const Studio& studio) {
  const auto before = studio.client->count(0);
  return eventually([&] {
    return studio.client->count(0) > before + 60 && !hanging(studio.client->recorded(0)).empty();
  });
}

/// How it ends within what a player waits for.
int stop(Child& playing, int signal) {
  playing.signal(signal);
  return playing.wait(std::chrono::seconds(5));
}

} // namespace

TEST_CASE("this would see a note that hangs: kill -9") {
  Studio studio;
  if (!studio)
    return;
  bool any = false;
  for (int i = 0; i < 3 && !any; ++i) {
    const auto playing = start(studio);
    REQUIRE(sounds(studio));
    REQUIRE(eventually([&] { return !hanging(studio.client->recorded(0)).empty(); }));
    CHECK(stop(*playing, SIGKILL) == 128 + SIGKILL);
    any = !hanging(studio.client->recorded(0)).empty();
  }
  CHECK(any);
}

TEST_CASE("signals end it with exit code 0, and nothing hangs") {
  Studio studio;
  if (!studio)
    return;
  for (const int signal : {SIGTERM, SIGINT, SIGHUP}) {
    CAPTURE(signal);
    const auto playing = start(studio);
    REQUIRE(sounds(studio));
    CHECK(stop(*playing, signal) == 0);
    CHECK(hanging(studio.client->recorded(0)).empty());
    CHECK(playing->err().empty());
  }
}

TEST_CASE("a note that the player still holds at the end does not hang") {
  Studio studio;
  if (!studio)
    return;
  const auto playing = start(studio, {"--in", "studio:out"});
  REQUIRE(sounds(studio));
  const auto holds = [&] {
    const auto notes = hanging(studio.client->recorded(0));
    return std::find(notes.begin(), notes.end(), "2:64") != notes.end();
  };
  studio.client->play(midi::note_on(0, 64, 90));
  REQUIRE(eventually(holds));
  CHECK(stop(*playing, SIGTERM) == 0);
  CHECK(hanging(studio.client->recorded(0)).empty());
}

TEST_CASE("the other side closes its port: it goes on, says so, plays again when the port is back, "
          "and still stops cleanly where it never is") {
  Studio studio;
  if (!studio)
    return;
  const auto playing = start(studio);
  const auto says_it = [&] {
    return eventually(
        [&] { return playing->err().find("waiting for 'studio:in1'") != std::string::npos; });
  };
  REQUIRE(sounds(studio));
  studio.client->close();
  CHECK(says_it());
  CHECK(playing->running());
  studio.come_back();
  CHECK(sounds(studio));
  studio.client->close();
  CHECK(stop(*playing, SIGTERM) == 0);
}

TEST_CASE("an instrument that vanishes: it goes on, and hears it again when it is back") {
  Studio studio;
  if (!studio)
    return;
  const auto take = studio.program.file("take.mid");
  const auto playing = studio.program.start({"play", "A | D", "--tempo", "400", "--out", "virtual",
                                             "--in", "studio:out", "--take", take});
  const auto connected = [&] {
    return studio.client->connect_from("Landfall.*:out", midi_type, "in1") == 1;
  };
  const auto heard_back = [&](int note) {
    return eventually([&] {
      studio.client->play(midi::note_on(0, note, 90));
      std::this_thread::sleep_for(milliseconds(20));
      studio.client->play(midi::note_off(0, note));
      for (const auto& entry : studio.client->recorded(0))
        if (midi::test::text(entry.message) == "on 2 " + std::to_string(note) + " 90")
          return true;
      return false;
    });
  };
  REQUIRE(eventually(connected));
  REQUIRE(sounds(studio)); // what is played before the count-in is no part of the take
  CHECK(heard_back(60));
  studio.client->play(midi::note_on(0, 72, 90)); // it is held when the cable comes out
  studio.client->close();
  std::this_thread::sleep_for(milliseconds(1500));
  CHECK(playing->running());
  studio.come_back();
  REQUIRE(eventually(connected));
  CHECK(heard_back(61));
  CHECK(stop(*playing, SIGTERM) == 0);
  CHECK(hanging(studio.client->recorded(0)).empty());

  std::map<int, int> taken;
  const auto file = read_song(take);
  for (const auto& event : file.tracks.back().events)
    if (const auto* message = std::get_if<midi::ShortMessage>(&event.content))
      taken[midi::note_of(*message)] += midi::is_note_on(*message) ? 1 : 0;
  CHECK(taken[60] > 0);
  CHECK(taken[61] > 0);
}
