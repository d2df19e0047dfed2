// Parts on outputs of their own, on real JACK ports.

#include "midi/fake_output.hpp"
#include "real/score.hpp"

#include <algorithm>
#include <csignal>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

const Command song{"A | D", "--tempo", "400", "--choruses", "2"};
constexpr int bass = 1, drums = 9;

/// Pitches switched on, in their order.
std::vector<int> pitches(const std::vector<Recorded>& recorded, int channel) {
  std::vector<int> notes;
  for (const auto& each : recorded)
    if (midi::is_note_on(each.message) && midi::channel_of(each.message) == channel)
      notes.push_back(midi::note_of(each.message));
  return notes;
}

std::vector<int> channels(const std::vector<Recorded>& recorded) {
  std::vector<int> all;
  for (const auto& each : recorded)
    if (midi::is_note_on(each.message))
      all.push_back(midi::channel_of(each.message));
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

std::vector<int> exported_bass(const Studio& studio) {
  const auto path = studio.program.file("song.mid");
  Command command{"export"};
  command.insert(command.end(), song.begin(), song.end());
  command.insert(command.end(), {"-o", path});
  REQUIRE(studio.program.run(command).exit == 0);
  std::vector<int> notes;
  for (const auto& track : read_song(path).tracks)
    for (const auto& event : track.events)
      if (const auto* message = std::get_if<midi::ShortMessage>(&event.content))
        if (midi::is_note_on(*message) && midi::channel_of(*message) == bass)
          notes.push_back(midi::note_of(*message));
  return notes;
}

bool has(const std::vector<Recorded>& recorded, const midi::ShortMessage& message) {
  return std::any_of(recorded.begin(), recorded.end(),
                     [&](const auto& each) { return each.message == message; });
}

} // namespace

TEST_CASE("each part goes to its output, on its channel, with its sound, and nothing hangs") {
  Studio studio;
  if (!studio)
    return;
  const auto expected = exported_bass(studio);
  REQUIRE(expected.size() > 8);
  Command command{"play"};
  command.insert(command.end(), song.begin(), song.end());
  command.insert(command.end(),
                 {"--out", "studio:in1", "--in", "none", "--part",
                  "bass: channel 7, bank 129, program 34, transpose -12, port studio:in2"});
  const auto play = studio.play_whole(command);
  CHECK(play->err().empty());
  const auto usual = studio.client->recorded(0), own = studio.client->recorded(1);
  CHECK(channels(own) == std::vector<int>{6});
  CHECK(channels(usual) == std::vector<int>{0, drums});
  auto lowered = expected;
  for (auto& note : lowered)
    note -= 12;
  CHECK(pitches(own, 6) == lowered);
  CHECK(has(own, midi::control(6, midi::controller::bank, 1)));
  CHECK(has(own, midi::control(6, midi::controller::bank_fine, 1)));
  CHECK(has(own, midi::program(6, 33)));
  CHECK(hanging(usual).empty());
  CHECK(hanging(own).empty());
}

TEST_CASE(
    "what is played goes where its part goes; a part whose output is missing is with the rest") {
  Studio studio;
  if (!studio)
    return;
  const auto play =
      studio.program.start({"play", "A | D", "--out", "studio:in1", "--in", "studio:out", "--part",
                            "lead: channel 5, port studio:in2", "--part", "drums: port nowhere",
                            "--thru-channels", "1"});
  REQUIRE(eventually([&] {
    studio.client->play(midi::note_on(0, 40, 64));
    studio.client->play(midi::note_off(0, 40));
    return !pitches(studio.client->recorded(1), 4).empty();
  }));
  studio.client->play(midi::note_on(3, 70, 64)); // not heard
  studio.client->play(midi::note_off(3, 70));
  studio.client->play(midi::note_on(0, 72, 64)); // held at the end
  REQUIRE(eventually([&] {
    const auto heard = pitches(studio.client->recorded(1), 4);
    return !heard.empty() && heard.back() == 72;
  }));
  REQUIRE(eventually([&] { return !pitches(studio.client->recorded(0), drums).empty(); }));
  play->signal(SIGTERM);
  CHECK(play->wait(std::chrono::seconds(10)) == 0);
  CHECK(play->err().find("waiting for 'nowhere'") != std::string::npos);
  const auto own = studio.client->recorded(1);
  const auto heard = pitches(own, 4);
  CHECK(std::find(heard.begin(), heard.end(), 70) == heard.end());
  CHECK(channels(own) == std::vector<int>{4});
  CHECK(hanging(own).empty());
  CHECK(hanging(studio.client->recorded(0)).empty());
}

TEST_CASE(
    "student and teacher are heard at once, each as their own part, and neither ends the other") {
  Studio studio;
  if (!studio)
    return;
  auto& student = *studio.client;
  JackClient teacher("guest");
  REQUIRE(teacher.running());
  constexpr int students = 4, teachers = 5, octave = 12;
  const auto on = [&](int channel, int note) { return midi::note_on(channel, note, 64); };
  const auto came = [&](const midi::ShortMessage& message) {
    return eventually([&] { return has(student.recorded(1), message); });
  };
  const auto play = studio.program.start(
      {"play", "A | D", "--out", "studio:in1", "--in", "studio:out", "--teacher", "guest:out",
       "--part", "lead: channel 5, transpose 12, port studio:in2", "--part",
       "teacher: channel 6, port studio:in2", "--thru-channels", "1"});
  for (auto* player : {&student, &teacher}) // until both are listened to
    REQUIRE(eventually([&] {
      player->play(on(0, 40));
      player->play(midi::note_off(0, 40));
      const auto own = student.recorded(1);
      return !pitches(own, player == &student ? students : teachers).empty();
    }));

  student.play(on(0, 60));
  teacher.play(on(0, 60));
  CHECK(came(on(students, 60 + octave)));
  CHECK(came(on(teachers, 60)));
  student.play(midi::note_off(0, 60));
  CHECK(came(midi::note_off(students, 60 + octave)));
  CHECK_FALSE(has(student.recorded(1), midi::note_off(teachers, 60)));

  student.play(on(0, 64));
  CHECK(came(on(students, 64 + octave)));
  teacher.close(); // pulled while both hold a note
  CHECK(came(midi::note_off(teachers, 60)));
  student.play(on(0, 72));
  CHECK(came(on(students, 72 + octave))); // the other goes on, at once
  CHECK_FALSE(has(student.recorded(1), midi::note_off(students, 64 + octave)));
  play->signal(SIGTERM);
  CHECK(play->wait(std::chrono::seconds(10)) == 0);
  CHECK(channels(student.recorded(1)) == std::vector<int>{students, teachers});
  CHECK(hanging(student.recorded(0)).empty());
  CHECK(hanging(student.recorded(1)).empty());
}
