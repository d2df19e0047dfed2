#include "app/pages.hpp"

#include "app/help.hpp"

#include <algorithm>
#include <array>

namespace landfall::app {

bool Page::press(const render::KeyPress&) {
  return false;
}

void Page::type(std::string_view) {}

void Page::click(const render::Hit&, render::MouseButton) {}

void Page::drag(const render::Frame&, render::Size, render::Point) {}

void Page::release() {}

void Page::scroll(int) {}

bool Page::hear(const midi::InputEvent&) {
  return false;
}

bool Page::moving() const {
  return false;
}

bool ListView::press(const render::KeyPress& press) {
  const bool plain = !press.control && !press.alt;
  if (plain && (press.name == "Left" || press.name == "Right") && step(press.name == "Left"))
    return true;
  if (press.name != "Return" || !plain)
    return list.press(press);
  choose();
  return true;
}

/// Backwards or forwards, where the row has both ways.
bool ListView::step(bool back) {
  const auto* item = list.focused();
  if (item == nullptr || item->back.empty())
    return false;
  const auto value = back ? item->back : item->value;
  return chosen_(value), true;
}

void ListView::type(std::string_view text) {
  if (list.has_query)
    list.type(text);
}

void ListView::click(const render::Hit& hit, render::MouseButton button) {
  if (list.click(hit) && button == render::MouseButton::left)
    choose();
}

/// May be the end of this page.
void ListView::choose() {
  const auto value = list.value();
  chosen_(value);
}

void HelpView::show(FrameInput& input) {
  auto page = help_page();
  page.scroll = scroll_;
  input.page = page;
}

bool HelpView::press(const render::KeyPress& press) {
  constexpr std::array<std::pair<std::string_view, int>, 6> rows{
      {{"Up", -1}, {"Down", 1}, {"PageUp", -8}, {"PageDown", 8}, {"Home", -9999}, {"End", 9999}}};
  if (press.control || press.alt)
    return false;
  for (const auto& [name, by] : rows)
    if (press.name == name)
      return scroll(-by), true;
  return false;
}

void HelpView::click(const render::Hit& hit, render::MouseButton) {
  if (std::holds_alternative<render::HitHint>(hit))
    close();
}

void HelpView::scroll(int steps) {
  scroll_ = std::clamp(scroll_ - steps, 0, most_());
}

} // namespace landfall::app
