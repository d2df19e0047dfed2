#include "app/pages.hpp"

#include "app/help.hpp"

#include <algorithm>
#include <map>

namespace landfall::app {

bool Page::press(const render::KeyPress&) {
  return false;
}

void Page::type(std::string_view) {}

void Page::click(const render::Hit&, int) {}

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
  const std::map<std::string, int> moves{{"Up", -1},      {"Down", 1},     {"PageUp", -8},
                                         {"PageDown", 8}, {"Home", -9999}, {"End", 9999}};
  if (const auto move = moves.find(press.name); move != moves.end())
    return list.move(move->second), true;
  if (press.name == "Return") {
    const auto value = list.value();
    return chosen_(value), true; // may be the end of this page
  }
  if (press.name == "Left" || press.name == "Right")
    return step(press.name == "Left");
  if (!list.has_query || press.control || press.alt)
    return false;
  if (press.name == "Backspace")
    return list.erase(), true;
  if (press.text.empty() || press.name == "Escape")
    return false;
  return list.type(press.text), true;
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

void ListView::click(const render::Hit& hit, int clicks) {
  const auto* row = std::get_if<render::HitRow>(&hit);
  if (row == nullptr)
    return;
  list.selected = row->index;
  if (!list.has_query || clicks > 1) {
    const auto value = list.value();
    chosen_(value);
  }
}

void HelpView::show(FrameInput& input) {
  auto page = help_page();
  page.scroll = scroll_;
  input.page = page;
}

bool HelpView::press(const render::KeyPress& press) {
  if (press.name != "Down" && press.name != "Up")
    return false;
  scroll(press.name == "Down" ? -1 : 1);
  return true;
}

void HelpView::scroll(int steps) {
  scroll_ = std::max(0, scroll_ - steps);
}

} // namespace landfall::app
