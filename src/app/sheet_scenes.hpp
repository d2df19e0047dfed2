#pragma once

#include "app/sheet_lesson.hpp"

namespace landfall::app::sheet {

/// What the command line says over what the scenes say.
struct SceneWishes {
  std::optional<Diagrams> diagrams;
  std::optional<neck::LabelKind> labels;
};

/// Finds the songs of a lesson and stands each scene in its place on `instrument`, which outlives
/// them; where a place does not exist there, the nearest. The error is one line about a song.
Result<std::vector<SceneSheet>, std::string> scenes_of(const practice::Lesson& lesson,
                                                       const neck::Instrument& instrument,
                                                       const SceneWishes& wishes);

} // namespace landfall::app::sheet
