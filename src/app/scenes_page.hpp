#pragma once

#include "app/open_lesson.hpp"
#include "app/pages.hpp"

#include <functional>

namespace landfall::app {

/// The scenes of the open lesson: to jump to, and to be moved, taken out and worded anew.
class ScenesPage final : public Page {
public:
  struct Calls {
    std::function<void(std::size_t scene)> jump;
    std::function<void(std::size_t scene)> word; ///< Type its words anew.
    /// The lesson is changed: scene `from` is now at `to`, or is taken out where that is none.
    std::function<void(std::size_t from, std::optional<std::size_t> to)> change;
  };

  ScenesPage(const OpenLesson& open, Calls calls);

  void show(FrameInput& input) override { input.page = list_.page(); }
  bool press(const render::KeyPress& press) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override { list_.move(-steps); }

  /// After the lesson changed.
  void rebuild(const OpenLesson& open);

private:
  std::size_t selected() const { return static_cast<std::size_t>(std::max(list_.selected, 0)); }
  void jump();
  void move(int steps);

  Calls calls_;
  ChoiceList list_;
};

} // namespace landfall::app
