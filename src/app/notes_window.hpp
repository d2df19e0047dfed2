#pragma once

#include "app/lists.hpp"
#include "app/open_lesson.hpp"
#include "render/window.hpp"

namespace landfall::app {

/// What only the teacher sees: the line and the notes of the scene that is shown, all scenes to
/// choose from, and the next one in full. Row n is scene n.
ChoiceList notes_list(const practice::Lesson& lesson, std::size_t at);

/// The teacher's own window. It is painted in memory, without waiting for a display, and only when
/// what it shows has changed: a scene, a beat. One thread, that of the class's window.
class NotesWindow {
public:
  struct Shown {
    std::size_t scene = 0;
    std::string beat; ///< `bar 3 of 8, beat 2`; empty while stopped.
    render::Status status;
    render::Theme theme = render::Theme::stage;
    double text_scale = 1;
    std::vector<std::string> words; ///< All that is written about the scenes: it may be edited.

    bool operator==(const Shown&) const = default;
  };

  explicit NotesWindow(std::unique_ptr<render::Window> window) : window_(std::move(window)) {}

  /// Shows it unless it is shown already. `lesson` is null where none is open.
  void show(const practice::Lesson* lesson, Shown shown);

  struct Asked {
    std::optional<std::size_t> scene; ///< One was clicked on.
    bool closes = false;
  };
  Asked take_inputs();

private:
  std::unique_ptr<render::Window> window_;
  std::optional<Shown> shown_;
  render::Size size_;
  render::Frame frame_;
};

} // namespace landfall::app
