#include "app/hint_keys.hpp"

#include <algorithm>
#include <array>

namespace landfall::app {
namespace {

constexpr std::array<std::string_view, 25> named{
    "Left",   "Right",  "Up",     "Down",      "PageUp", "PageDown", "Home", "End", "Tab",
    "Return", "Escape", "Delete", "Backspace", "F1",     "F2",       "F3",   "F4",  "F5",
    "F6",     "F7",     "F8",     "F9",        "F10",    "F11",      "F12"};

render::KeyPress pressed(std::string_view name, std::string_view text = "") {
  render::KeyPress press;
  press.name = name;
  press.text = text;
  return press;
}

/// A sign as it is typed.
render::KeyPress sign(char c) {
  const bool small = c >= 'a' && c <= 'z';
  const std::string key(1, small ? static_cast<char>(c - 'a' + 'A') : c);
  auto press = pressed(key, std::string(1, c));
  press.shift = c >= 'A' && c <= 'Z';
  return press;
}

} // namespace

std::optional<render::KeyPress> key_named(std::string_view name) {
  constexpr std::string_view control = "Ctrl+";
  if (name.size() > control.size() && name.starts_with(control)) {
    auto press = key_named(name.substr(control.size()));
    if (press) {
      press->control = true;
      press->text.clear();
    }
    return press;
  }
  if (name == "space" || name == "Space")
    return pressed("Space", " ");
  if (name == "Esc")
    return pressed("Escape");
  if (name.size() == 1 && name.front() > ' ' && name.front() < '\x7f')
    return sign(name.front());
  if (std::find(named.begin(), named.end(), name) != named.end())
    return pressed(name);
  return std::nullopt;
}

std::optional<render::KeyPress> key_of_hint(std::string_view hint, std::size_t at) {
  std::optional<render::KeyPress> first;
  for (std::size_t from = 0; from < hint.size();) {
    const auto end = std::min(hint.find(' ', from), hint.size());
    const auto key = key_named(hint.substr(from, end - from));
    if (!key)
      break;
    if (!first || (at >= from && at < end))
      first = key;
    from = end + 1;
  }
  return first;
}

} // namespace landfall::app
