#pragma once

#include "app/sheet_song.hpp"

#include <memory>

namespace landfall::app::sheet {

/// A scene of a lesson with what it plays over; without a song there is only what it says.
struct SceneSheet {
  practice::Scene scene; ///< With all that the scenes before it still hold.
  std::shared_ptr<const song::Song> song;
  std::shared_ptr<const song::Form> form;
  Place place; ///< Its form is `form`.
  double beats_per_minute = 0;
};

/// Title, then for each scene its line to say, its facts, and the changes and diagrams where they
/// are not those of an earlier scene. Notes for the teacher's eyes are left out.
Sheet lesson_sheet(const practice::Lesson& lesson, const std::vector<SceneSheet>& scenes,
                   const Paper& paper, const render::TextMetrics& metrics);

} // namespace landfall::app::sheet
