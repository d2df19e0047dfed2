#pragma once

#include "app/frame_builder.hpp"
#include "app/lessons.hpp"
#include "app/scene_state.hpp"

namespace landfall::app {

/// A lesson that is open, and where in it the class is. A value; window's thread.
struct OpenLesson {
  /// What takes hold at the next bar line.
  struct Coming {
    std::optional<std::size_t> scene; ///< None: the lesson is left.
    SceneState state;
    Ticks due;
    std::uint64_t run = 0; ///< The performance that `due` is of.
    bool sent = false;     ///< The band knows of it.
  };

  LessonFile file;
  std::size_t at = 0; ///< The scene that is shown.
  SceneState before;  ///< What is given back when it is left.
  neck::Instrument instrument_before;
  InstrumentChoice instrument_choice_before;
  std::optional<Coming> coming;

  /// The scene that is shown, or about to be.
  std::size_t latest() const { return coming && coming->scene ? *coming->scene : at; }
  /// So many scenes from there; none where the lesson ends.
  std::optional<std::size_t> stepped(int steps) const;
};

/// What the picture says of the scene that is shown.
SceneView view_of(const OpenLesson& open);

/// Where a lesson is taken up again: the scene in which it was left, from the top if that was the
/// last one or is not there any more.
std::size_t first_scene(const practice::Lesson& lesson, std::optional<int> left);

} // namespace landfall::app
