#include "app/handout.hpp"

#include "app/data.hpp"
#include "app/lessons.hpp"
#include "app/library.hpp"
#include "app/own_sets.hpp"
#include "app/setup.hpp"
#include "song/unroll.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

namespace fs = std::filesystem;

sheet::Place place_on(const HandoutWishes& wishes, const song::Form& form) {
  const auto& music = wishes.music;
  sheet::Place place;
  place.form = &form;
  place.setting.instrument = &wishes.instrument;
  place.setting.fitting = &own_sets().fitting;
  place.setting.key = form.key;
  place.setting.set = set_of(music, usual_set);
  place.setting.over = over_of(music, place.setting.set);
  place.setting.home = position_of(wishes.instrument, form.key, place_of(music));
  place.target = target_of(music);
  place.labels = labels_of(music);
  place.diagrams = wishes.diagrams.value_or(sheet::Diagrams{});
  return place;
}

} // namespace

neck::Instrument handout_instrument(const MusicOptions& music, bool left_handed) {
  auto instrument = instrument_of(music);
  instrument.left_handed = instrument.left_handed || left_handed;
  return instrument;
}

neck::Instrument lesson_instrument(const practice::Lesson& lesson, const HandoutWishes& wishes) {
  const auto& music = wishes.music;
  if (!music.instrument.empty() || !music.tuning.empty() || lesson.instrument.empty())
    return wishes.instrument;
  auto named = music;
  named.instrument = lesson.instrument;
  return handout_instrument(named, wishes.left_handed);
}

sheet::Sheet song_handout(const song::Song& song, const HandoutWishes& wishes) {
  const auto& music = wishes.music;
  const auto form = music.key.empty() ? unroll(song) : unroll(song, key_of(music, {}));
  sheet::SongSheet sheet;
  sheet.song = &song;
  sheet.place = place_on(wishes, form);
  sheet.beats_per_minute = tempo_of(music).value_or(beats_per_minute(song.tempo, song.meter));
  return song_sheet(sheet, wishes.paper, *wishes.metrics);
}

Handout lesson_handout(const practice::Lesson& lesson, const HandoutWishes& wishes) {
  const auto instrument = lesson_instrument(lesson, wishes);
  sheet::SceneWishes scene_wishes;
  scene_wishes.diagrams = wishes.diagrams;
  if (wishes.labels_given)
    scene_wishes.labels = labels_of(wishes.music);
  const auto scenes = scenes_of(lesson, instrument, scene_wishes);
  if (!scenes)
    return scenes.error();
  return lesson_sheet(lesson, *scenes, wishes.paper, *wishes.metrics);
}

Handout phrase_handout(const trade::KeptPhrase& kept, const HandoutWishes& wishes) {
  const auto& music = wishes.music;
  sheet::PhraseSheet sheet{&kept, &wishes.instrument, {}, labels_of(music)};
  if (music.position || !music.shape.empty())
    sheet.hand = position_of(wishes.instrument, kept.phrase.key, place_of(music)).low;
  return phrase_sheet(sheet, wishes.paper, *wishes.metrics);
}

bool is_song_name(const std::string& name) {
  std::error_code ignored;
  return std::ranges::any_of(song_folders(), [&](const fs::path& folder) {
    return fs::exists(folder / (name + ".song"), ignored);
  });
}

fs::path lesson_path(const std::string& name) {
  if (name.ends_with(".lesson"))
    return name;
  const auto files = lesson_files();
  const auto found =
      std::ranges::find_if(files, [&](const fs::path& path) { return path.stem() == name; });
  return found == files.end() ? fs::path{} : *found;
}

} // namespace landfall::app
