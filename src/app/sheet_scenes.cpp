#include "app/sheet_scenes.hpp"

#include "app/library.hpp"
#include "app/own_sets.hpp"
#include "app/setup.hpp"
#include "practice/hand.hpp"
#include "song/unroll.hpp"

#include <map>
#include <sstream>

namespace landfall::app::sheet {
namespace {

Diagrams diagrams_of(const practice::Scene& scene) {
  if (!scene.show)
    return {};
  return {scene.show->grip, scene.show->chord_tones, scene.show->landing || scene.show->set,
          scene.show->groups};
}

theory::NoteSet set_of(const practice::Scene& scene) {
  if (scene.set)
    return *scene.set;
  const auto usual = theory::parse_note_set(usual_set);
  return *usual;
}

Place place_of(const SceneSheet& sheet, const neck::Instrument& instrument,
               const SceneWishes& wishes) {
  const auto& scene = sheet.scene;
  Place place;
  place.form = sheet.form.get();
  place.setting.instrument = &instrument;
  place.setting.fitting = &own_sets().fitting;
  place.setting.key = sheet.form->key;
  place.setting.set = set_of(scene);
  place.setting.over = scene.over.value_or(theory::usual_over(place.setting.set));
  place.setting.home =
      practice::home_of(instrument, sheet.form->key, scene.place.value_or(neck::PlaceRequest{}));
  place.target = scene.target.value_or(neck::Target{});
  place.labels = wishes.labels.value_or(scene.labels.value_or(neck::LabelKind::degree));
  place.diagrams = wishes.diagrams.value_or(diagrams_of(scene));
  return place;
}

} // namespace

Result<std::vector<SceneSheet>, std::string> scenes_of(const practice::Lesson& lesson,
                                                       const neck::Instrument& instrument,
                                                       const SceneWishes& wishes) {
  std::map<std::string, std::shared_ptr<const song::Song>> songs;
  std::vector<SceneSheet> scenes;
  for (std::size_t i = 0; i < lesson.scenes.size(); ++i) {
    SceneSheet sheet;
    sheet.scene = whole_scene(lesson, i);
    const auto& name = sheet.scene.song;
    if (!name.empty() && songs[name] == nullptr) {
      std::istringstream nothing;
      const auto loaded = load_song(name, nothing);
      if (!loaded)
        return "scene " + std::to_string(i + 1) + ": " + loaded.error();
      songs[name] = loaded->song;
    }
    if (!name.empty()) {
      sheet.song = songs[name];
      sheet.form = std::make_shared<const song::Form>(
          sheet.scene.key ? unroll(*sheet.song, *sheet.scene.key) : unroll(*sheet.song));
      sheet.place = place_of(sheet, instrument, wishes);
      sheet.beats_per_minute = sheet.scene.tempo
                                   ? *sheet.scene.tempo
                                   : beats_per_minute(sheet.song->tempo, sheet.song->meter);
    }
    scenes.push_back(std::move(sheet));
  }
  return scenes;
}

} // namespace landfall::app::sheet
