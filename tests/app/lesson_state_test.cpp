#include "app/lessons.hpp"
#include "app/notes_window.hpp"
#include "app/open_lesson.hpp"
#include "app/own_data.hpp"
#include "app/own_sets.hpp"
#include "app/run_command.hpp"
#include "app/scene_state.hpp"
#include "song/parser.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>

using namespace landfall;
using namespace landfall::app;

namespace {

constexpr std::string_view text = R"(title: Two scenes
scene: First
say: Bb is where it begins.
song: A | D | E | A
key: Bb
place: C shape
set: blues over the key
tempo: 70
mute: drums
show: landing, grip
labels: note

scene: Second
say: Now the thirds.
target: thirds
board: only
loop: 2-3
feel: shuffle

scene: Third
song: Dm7 | G7 | Cmaj7 | Cmaj7
room: trade, free, dense
)";

practice::Lesson lesson() {
  return practice::read_lesson(text, own_sets()).value();
}

std::shared_ptr<const song::Song> song_of(const std::string& name) {
  std::istringstream nothing;
  return load_song(name, nothing).value().song;
}

std::vector<trade::Density> three_densities() {
  std::vector<trade::Density> densities(3);
  densities[0].name = "sparse";
  densities[1].name = "medium";
  densities[2].name = "dense";
  return densities;
}

SceneState before() {
  SceneState state;
  state.song = song_of("slipway-at-six");
  state.song_name = "slipway-at-six";
  state.choice.key = state.song->key;
  state.choice.tempo = state.song->tempo;
  state.choice.set = theory::parse_note_set("dorian").value();
  state.choice.intensity = 0.9;
  state.choice.muted[1] = true;
  state.look.theme = render::Theme::paper;
  state.look.groups = 2;
  return state;
}

SceneState state(std::size_t number) {
  const auto scene = whole_scene(lesson(), number);
  std::vector<std::string> problems;
  static const auto guitar = neck::standard_guitar();
  static const auto densities = three_densities();
  return state_of(scene, song_of(scene.song), before(), guitar, densities);
}

} // namespace

TEST_CASE("a scene sets key, place, set, tempo, parts and view; the rest is as usual or stays") {
  const auto first = state(0);
  CHECK(ascii(first.choice.key) == "Bb");
  CHECK(first.choice.place == neck::PlaceRequest{'C', std::nullopt});
  CHECK(first.choice.set.name == "blues");
  CHECK(first.choice.over == theory::Over::key);
  CHECK(std::lround(beats_per_minute(first.choice.tempo, first.song->meter)) == 70);
  CHECK(first.choice.muted[0]);
  CHECK_FALSE(first.choice.muted[1]);
  CHECK(first.choice.intensity == 0.9);
  CHECK(first.look.grip);
  CHECK_FALSE(first.look.set_notes);
  CHECK(first.look.groups == 0);
  CHECK(first.look.labels == neck::LabelKind::name);
  CHECK(first.look.theme == render::Theme::paper);
  CHECK_FALSE(first.look.neck_only);
  CHECK_FALSE(first.trades);
}

TEST_CASE("a later scene keeps what it does not change; a trade has its kind and density") {
  const auto second = state(1);
  CHECK(ascii(second.choice.key) == "Bb");
  CHECK(target_text(second.choice.target) == "thirds");
  CHECK(second.look.neck_only);
  CHECK(*second.choice.loop == practice::BarRange{2, 3});
  CHECK(second.choice.feel == "shuffle");
  const auto third = state(2);
  CHECK(third.choice.key == third.song->key);
  CHECK_FALSE(third.choice.loop);
  CHECK(third.trades);
  CHECK(third.trade.kind == trade::AnswerKind::free);
  CHECK(third.trade.density == 2);
}

TEST_CASE(
    "the commands between two choices lead from one to the other, and are none for the same") {
  for (std::size_t from = 0; from < 2; ++from) {
    auto choice = state(from).choice;
    const auto to = state(1 - from).choice;
    for (const auto& command : commands_between(choice, to))
      choice = with(std::move(choice), command);
    CHECK(choice == to);
    CHECK(commands_between(to, to).empty());
  }
}

TEST_CASE("what is seen, added as a scene, is seen again") {
  const auto densities = three_densities();
  for (std::size_t i = 0; i < 3; ++i) {
    const auto shown = state(i);
    practice::Lesson made;
    made.scenes.push_back(scene_of(shown, densities));
    made.scenes.back().name = "as it was";
    const auto read = practice::read_lesson(as_text(made), own_sets());
    REQUIRE_MESSAGE(read, (read ? "" : read.error().reason));
    const auto guitar = neck::standard_guitar();
    const auto again = state_of(whole_scene(*read, 0), shown.song, before(), guitar, densities);
    CHECK(again.choice == shown.choice);
    CHECK(again.look == shown.look);
    CHECK(again.trades == shown.trades);
    if (shown.trades)
      CHECK(again.trade == shown.trade);
    CHECK(again.song_name == shown.song_name);
  }
}

TEST_CASE("a lesson goes from scene to scene and no further, and is taken up where it was left") {
  OpenLesson open;
  open.file.lesson = lesson();
  CHECK_FALSE(open.stepped(-1));
  CHECK(open.stepped(1) == 1);
  OpenLesson::Coming coming;
  coming.scene = 1;
  open.coming = coming;
  CHECK(open.stepped(1) == 2);
  CHECK(view_of(open).count == "1 of 3");
  CHECK(view_of(open).line == "B♭ is where it begins.");
  CHECK(first_scene(open.file.lesson, 1) == 1);
  for (const auto left :
       {std::optional<int>{}, std::optional(2), std::optional(7), std::optional(-3)})
    CHECK(first_scene(open.file.lesson, left) == 0);
}

TEST_CASE("lessons are found by name and path, own ones first; errors are one line with a place") {
  const test::ScratchFolder scratch;
  const test::OwnData own(scratch.path);
  const auto shipped = load_lesson("one-hand-five-chords");
  REQUIRE(shipped);
  CHECK_FALSE(is_own(*shipped));
  LessonFile mine;
  mine.lesson = lesson();
  mine.lesson.title = "Sally's own: Two Scenes";
  CHECK(is_own(mine));
  CHECK(write_lesson(mine).empty());
  CHECK(mine.name() == "sallys-own-two-scenes");
  CHECK(is_own(mine));
  const auto read = load_lesson("sallys-own-two-scenes");
  REQUIRE(read);
  CHECK(read->lesson.scenes.size() == 3);
  CHECK(lesson_files().front() == mine.path);
  const auto list = lesson_list("");
  CHECK(list.items.front().text == "Your own");
  CHECK(lesson_list(mine.path).items.front().value == "lesson-leave");

  CHECK(load_lesson("no-such-lesson").error() == "there is no lesson 'no-such-lesson'");
  const auto broken = scratch.path / "broken.lesson";
  std::ofstream(broken) << "scene: one\ntempo: fast\n";
  const auto error = load_lesson(broken.string());
  REQUIRE_FALSE(error);
  CHECK(error.error().find("broken.lesson:2:8: ") != std::string::npos);
  CHECK(error.error().find('\n') == std::string::npos);
}

TEST_CASE("a lesson on the command line that is not there ends with one line") {
  const auto ran = test::run({"--lesson", "no-such-lesson"});
  CHECK(ran.exit == 1);
  CHECK(ran.err == "landfall: there is no lesson 'no-such-lesson'\n");
}

TEST_CASE(
    "the teacher's window has the notes of the scene, every scene, and the next one in full") {
  practice::Lesson lesson;
  lesson.scenes.resize(3);
  for (std::size_t i = 0; i < 3; ++i) {
    lesson.scenes[i].name = "Scene " + std::to_string(i);
    lesson.scenes[i].say = "Say " + std::to_string(i);
    lesson.scenes[i].notes = {"Note " + std::to_string(i)};
  }
  const auto list = notes_list(lesson, 1);
  CHECK(list.title == "2 of 3 · Scene 1");
  CHECK(list.lines == std::vector<std::string>{"“Say 1”", "Note 1"});
  REQUIRE(list.items.size() == 3);
  CHECK(list.items[1].chosen);
  CHECK(list.selected == 2);
  const auto preview = list.page().preview;
  REQUIRE(preview.size() >= 3);
  CHECK(preview[0] == "Next: Scene 2");
  CHECK(preview[1] == "Say 2");
  CHECK(preview[2] == "Note 2");
  CHECK(notes_list(lesson, 2).page().preview.at(0) == "The last scene");
}
