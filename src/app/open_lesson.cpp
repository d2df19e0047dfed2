#include "app/open_lesson.hpp"

namespace landfall::app {

std::optional<std::size_t> OpenLesson::stepped(int steps) const {
  const auto to = static_cast<std::ptrdiff_t>(latest()) + steps;
  if (to < 0 || to >= static_cast<std::ptrdiff_t>(file.lesson.scenes.size()))
    return std::nullopt;
  return static_cast<std::size_t>(to);
}

SceneView view_of(const OpenLesson& open) {
  const auto& scenes = open.file.lesson.scenes;
  if (open.at >= scenes.size())
    return {};
  return {std::to_string(open.at + 1) + " of " + std::to_string(scenes.size()),
          render::with_signs(scenes[open.at].name), render::with_signs(scenes[open.at].say)};
}

std::size_t first_scene(const practice::Lesson& lesson, std::optional<int> left) {
  const auto count = static_cast<int>(lesson.scenes.size());
  return left && *left > 0 && *left + 1 < count ? static_cast<std::size_t>(*left) : 0;
}

} // namespace landfall::app
