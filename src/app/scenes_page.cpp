#include "app/scenes_page.hpp"

namespace landfall::app {

ScenesPage::ScenesPage(const OpenLesson& open, Calls calls) : calls_(std::move(calls)) {
  rebuild(open);
  list_.selected = static_cast<int>(open.latest());
}

void ScenesPage::rebuild(const OpenLesson& open) {
  list_.title = open.file.title();
  list_.hints = "Ctrl+L leave the lesson  Return jump there  Ctrl+E word it anew  "
                "Ctrl+Up Ctrl+Down move it  Delete take it out";
  list_.items.clear();
  const auto& scenes = open.file.lesson.scenes;
  for (std::size_t i = 0; i < scenes.size(); ++i) {
    ChoiceList::Item item;
    item.text = std::to_string(i + 1) + "  " + render::with_signs(scenes[i].name);
    item.value = std::to_string(i);
    item.preview = {render::with_signs(scenes[i].say)};
    item.chosen = i == open.at;
    list_.items.push_back(std::move(item));
  }
  list_.move(0);
}

bool ScenesPage::press(const render::KeyPress& press) {
  if (press.control && (press.name == "Up" || press.name == "Down"))
    return move(press.name == "Up" ? -1 : 1), true;
  if (press.control && press.name == "E")
    return calls_.word(selected()), true;
  if (press.name == "Delete")
    return calls_.change(selected(), std::nullopt), true;
  if (press.name == "Return" && !press.control)
    return jump(), true;
  return list_.press(press);
}

void ScenesPage::click(const render::Hit& hit, render::MouseButton button) {
  if (list_.click(hit) && button == render::MouseButton::left)
    jump();
}

void ScenesPage::jump() {
  calls_.jump(selected());
  close();
}

void ScenesPage::move(int steps) {
  const auto from = selected();
  const auto to = static_cast<std::ptrdiff_t>(from) + steps;
  if (to < 0 || to >= static_cast<std::ptrdiff_t>(list_.items.size()))
    return;
  list_.selected += steps;
  calls_.change(from, static_cast<std::size_t>(to));
}

} // namespace landfall::app
