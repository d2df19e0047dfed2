#include "app/room.hpp"
#include "app/scene_form.hpp"
#include "app/scenes_page.hpp"
#include "app/setting.hpp"
#include "practice/hand.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

practice::Scene worded(practice::Scene scene, const SceneWords& words) {
  scene.name = words.name;
  scene.say = words.say;
  scene.notes = words.notes;
  return scene;
}

} // namespace

void Room::show_scenes() {
  if (!lesson_)
    return say("open a lesson first: Y");
  if (shows<ScenesPage>())
    return close_page();
  ScenesPage::Calls calls;
  calls.jump = [this](std::size_t scene) { show_scene(scene); };
  calls.word = [this](std::size_t scene) { word_scene(scene); };
  calls.change = [this](std::size_t from, std::optional<std::size_t> to) {
    to ? move_scene(from, *to) : remove_scene(from);
  };
  open(std::make_unique<ScenesPage>(*lesson_, std::move(calls)));
}

/// What is seen now, as a scene; what the scene before it would leave behind is said anew.
practice::Scene Room::seen_as_scene(const practice::Scene* before) const {
  auto scene = scene_of(state_now(), densities());
  if (!scene.place)
    scene.place = practice::request_for(setting_of(instrument_, choice()).home);
  if (scene.feel.empty() && before != nullptr && before->song == scene.song)
    scene.feel = before->feel.empty() ? "" : snapshot_.song->feel;
  return scene;
}

void Room::add_scene() {
  if (settings_.song.empty() || !song_has_name_)
    return say("save the song first");
  SceneWords words;
  words.lesson = lesson_ ? lesson_->file.title() : lesson_made_;
  SceneForm::Calls calls;
  calls.say = [this](const std::string& what) { say(what); };
  calls.keep = [this](const SceneWords& typed) { return keep_scene(typed); };
  open(std::make_unique<SceneForm>("What you see, as a scene", words, std::move(calls)));
}

/// Into the open lesson after the present scene, else at the end of the player's lesson of that
/// title, which is made where there is none.
bool Room::keep_scene(const SceneWords& words) {
  if (lesson_ && words.lesson == lesson_->file.title()) {
    const auto before = whole_scene(lesson_->file.lesson, lesson_->at);
    const auto scene = worded(seen_as_scene(&before), words);
    auto& scenes = lesson_->file.lesson.scenes;
    scenes.insert(scenes.begin() + static_cast<std::ptrdiff_t>(lesson_->at) + 1, scene);
    ++lesson_->at;
    return save_lesson(lesson_->file);
  }
  LessonFile file;
  file.lesson.title = words.lesson;
  file.lesson.instrument = settings_.instrument.name;
  for (const auto& path : lesson_files())
    if (auto known = load_lesson(path.string());
        known && is_own(*known) && known->title() == words.lesson) {
      file = *std::move(known);
      break;
    }
  auto& scenes = file.lesson.scenes;
  const auto before =
      scenes.empty() ? practice::Scene{} : whole_scene(file.lesson, scenes.size() - 1);
  scenes.push_back(worded(seen_as_scene(scenes.empty() ? nullptr : &before), words));
  lesson_made_ = words.lesson;
  return save_lesson(file);
}

/// A shipped lesson is copied among the player's own.
bool Room::save_lesson(LessonFile& file) {
  const bool copied = !is_own(file);
  if (copied)
    file.path.clear();
  const auto reason = write_lesson(file);
  if (!reason.empty())
    say("the lesson could not be saved: " + reason);
  else
    say((copied ? "kept as a lesson of your own: " : "kept in ") + file.path.filename().string());
  if (auto* page = dynamic_cast<ScenesPage*>(top_page()); page != nullptr && lesson_)
    page->rebuild(*lesson_);
  return reason.empty();
}

void Room::word_scene(std::size_t scene) {
  const auto& lesson = lesson_->file.lesson;
  if (scene >= lesson.scenes.size())
    return;
  const auto& known = lesson.scenes[scene];
  SceneForm::Calls calls;
  calls.say = [this](const std::string& what) { say(what); };
  calls.keep = [this, scene](const SceneWords& typed) {
    if (!lesson_ || scene >= lesson_->file.lesson.scenes.size())
      return true;
    auto& changed = lesson_->file.lesson;
    changed.title = typed.lesson;
    changed.scenes[scene] = worded(changed.scenes[scene], typed);
    return save_lesson(lesson_->file);
  };
  SceneWords words{lesson_->file.title(), known.name, known.say, known.notes};
  close_page();
  open(std::make_unique<SceneForm>("Scene " + std::to_string(scene + 1), words, std::move(calls)));
}

/// Scenes keep what they show wherever they come to stand.
void Room::settle_scenes(std::vector<practice::Scene> whole) {
  lesson_->coming.reset();
  lesson_->file.lesson.scenes = std::move(whole);
  save_lesson(lesson_->file);
}

std::vector<practice::Scene> Room::whole_scenes() const {
  std::vector<practice::Scene> whole;
  for (std::size_t i = 0; i < lesson_->file.lesson.scenes.size(); ++i)
    whole.push_back(whole_scene(lesson_->file.lesson, i));
  return whole;
}

void Room::move_scene(std::size_t from, std::size_t to) {
  auto whole = whole_scenes();
  if (from >= whole.size() || to >= whole.size())
    return;
  std::swap(whole[from], whole[to]);
  if (lesson_->at == from || lesson_->at == to)
    lesson_->at = lesson_->at == from ? to : from;
  settle_scenes(std::move(whole));
}

void Room::remove_scene(std::size_t scene) {
  auto whole = whole_scenes();
  if (scene >= whole.size())
    return;
  if (whole.size() == 1)
    return say("a lesson has at least one scene");
  whole.erase(whole.begin() + static_cast<std::ptrdiff_t>(scene));
  if (lesson_->at > scene || lesson_->at == whole.size())
    --lesson_->at;
  settle_scenes(std::move(whole));
}

} // namespace landfall::app
