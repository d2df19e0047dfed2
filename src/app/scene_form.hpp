#pragma once

#include "app/page.hpp"
#include "app/text_field.hpp"

#include <array>
#include <functional>

namespace landfall::app {

/// What is typed of a scene.
struct SceneWords {
  std::string lesson; ///< Its title.
  std::string name;
  std::string say;
  std::vector<std::string> notes;

  bool operator==(const SceneWords&) const = default;
};

/// A scene's words being typed, in place of the board; what it will show stays above.
class SceneForm final : public Page {
public:
  struct Calls {
    /// Keeps the scene; false if it could not be.
    std::function<bool(const SceneWords&)> keep;
    std::function<void(const std::string& words)> say;
  };

  SceneForm(std::string title, const SceneWords& words, Calls calls);

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void type(std::string_view text) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override;

  SceneWords words() const;

private:
  static constexpr std::size_t lesson = 0, name = 1, line = 2, notes = 3, count = 4;

  void next_field(int steps);
  void keep();

  std::string title_;
  std::array<TextField, count> fields_;
  std::size_t focus_ = name;
  Calls calls_;
};

} // namespace landfall::app
