#include "app/data.hpp"
#include "app/densities.hpp"
#include "app/frame_builder.hpp"
#include "app/lessons.hpp"
#include "app/open_lesson.hpp"
#include "app/own_data.hpp"
#include "app/run_command.hpp"
#include "app/scene_state.hpp"
#include "app/setup.hpp"
#include "render/fake_metrics.hpp"
#include "render/layout.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

// LANDFALL_APPROVE=1 writes the approved files anew; look at them before committing.

using namespace landfall;
using namespace landfall::app;

namespace {

const std::string approved = std::string(LANDFALL_SOURCE_DIR) + "/tests/app/approved/";

std::shared_ptr<const FeelFolder> feels() {
  std::vector<std::string> problems;
  static const auto all = FeelFolder::load(problems);
  return all;
}

/// A scene of a lesson as the window shows it, at the top of what it plays.
struct Shown {
  OpenLesson open;
  SceneState state;
  neck::Instrument instrument;

  Shown(const LessonFile& file, std::size_t number) {
    open.file = file;
    open.at = number;
    const auto scene = whole_scene(file.lesson, number);
    std::istringstream nothing;
    const auto song = load_song(scene.song, nothing);
    REQUIRE_MESSAGE(song, (song ? "" : song.error()));
    instrument = load_instrument(file.lesson.instrument).value();
    std::vector<std::string> problems;
    state = state_of(scene, song->song, {}, instrument, load_densities(problems));
  }

  practice::Session session() const {
    practice::Session::Setup setup;
    setup.song = state.song;
    setup.feels = feels();
    setup.choice = state.choice;
    return practice::Session(std::move(setup));
  }

  render::Frame frame(bool playing = true) const {
    const auto played = session();
    FrameInput input;
    input.instrument = &instrument;
    input.look = state.look;
    input.snapshot.timeline = std::make_shared<const practice::Timeline>(played.timeline());
    input.snapshot.song = state.song;
    input.snapshot.choice = state.choice;
    input.snapshot.transport.rolling = playing;
    input.scene = view_of(open);
    return build_frame(input);
  }
};

int lit(const render::Frame& frame, render::Role role) {
  int count = 0;
  if (const auto* neck = std::get_if<render::Neck>(&frame.board))
    for (const auto& place : neck->places)
      count += place.mark.role == role;
  else
    for (const auto& key : std::get<render::Keyboard>(frame.board).keys)
      count += key.mark.role == role;
  return count;
}

std::vector<LessonFile> shipped() {
  const test::ScratchFolder nothing;
  const test::OwnData own(nothing.path);
  std::vector<LessonFile> all;
  for (const auto& path : lesson_files()) {
    auto file = load_lesson(path.string());
    REQUIRE_MESSAGE(file, (file ? "" : file.error()));
    all.push_back(*std::move(file));
  }
  return all;
}

} // namespace

TEST_CASE("there are three shipped lessons of at least ten scenes, guitar and keyboard") {
  const auto lessons = shipped();
  CHECK(lessons.size() == 3);
  int keyboards = 0;
  for (const auto& file : lessons) {
    CAPTURE(file.name());
    CHECK(file.lesson.scenes.size() >= 10);
    CHECK_FALSE(file.lesson.title.empty());
    CHECK_FALSE(file.lesson.about.empty());
    keyboards += file.lesson.instrument == "keyboard";
  }
  CHECK(keyboards == 1);
}

TEST_CASE("every scene of a shipped lesson has its song, its place, a line that fits, and lights") {
  const render::FakeMetrics metrics;
  for (const auto& file : shipped())
    for (std::size_t i = 0; i < file.lesson.scenes.size(); ++i) {
      CAPTURE(file.name());
      CAPTURE(file.lesson.scenes[i].name);
      const Shown shown(file, i);
      const auto& state = shown.state;
      const auto song_path = songs_folder() / (state.song_name + ".song");
      CHECK(std::filesystem::exists(song_path));
      CHECK(neck::find_position(shown.instrument, state.choice.key, state.choice.place));
      CHECK(file.lesson.scenes[i].say.size() <= 64);
      CHECK_FALSE(file.lesson.scenes[i].say.empty());
      if (const auto& loop = state.choice.loop)
        CHECK(loop->last <= static_cast<int>(unroll(*state.song).bars.size()));
      const auto frame = shown.frame();
      CHECK(frame.scene->line == render::with_signs(file.lesson.scenes[i].say));
      CHECK_FALSE(frame.scene->chord.root.empty());
      CHECK(lit(frame, render::Role::landing) > 0);
      for (const auto size : {render::Size{800, 450}, render::Size{1920, 1080}})
        CHECK(render::layout(frame, size, metrics).commands.size() > 20);
    }
}

TEST_CASE("the speaker's notes are on no picture") {
  const render::FakeMetrics metrics;
  for (const auto& file : shipped())
    for (std::size_t i = 0; i < file.lesson.scenes.size(); ++i) {
      const Shown shown(file, i);
      const auto text = dump(render::layout(shown.frame(), {1920, 1080}, metrics));
      for (const auto& note : file.lesson.scenes[i].notes)
        CHECK(text.find(note.substr(0, 12)) == std::string::npos);
    }
}

TEST_CASE("every scene is as it was approved") {
  const render::FakeMetrics metrics;
  for (const auto& file : shipped())
    for (std::size_t scene = 0; scene < file.lesson.scenes.size(); ++scene) {
      const auto text = dump(render::layout(Shown(file, scene).frame(), {1280, 720}, metrics));
      const auto path = approved + file.name() + "-" + std::to_string(scene + 1) + ".txt";
      if (std::getenv("LANDFALL_APPROVE") != nullptr) {
        std::filesystem::create_directories(approved);
        std::ofstream(path) << text;
      }
      std::ifstream known(path);
      std::stringstream whole;
      whole << known.rdbuf();
      const bool same = whole.str() == text;
      CHECK_MESSAGE(same, path);
    }
}

TEST_CASE("a scene says what comes: in how many beats while the band plays") {
  const auto file =
      load_lesson((songs_folder() / "lessons" / "one-hand-five-chords.lesson").string());
  REQUIRE(file);
  const Shown shown(*file, 7);
  CHECK(shown.frame().scene->coming == "coming: D in 8 beats");
  CHECK(shown.frame(false).scene->coming == "then D");
  CHECK(shown.frame().scene->count == "8 of 14");
  CHECK(shown.frame().scene->about == "E shape · frets 4–7");
}
