#include "app/field_keys.hpp"

#include <array>

namespace landfall::app {
namespace {

struct FieldKey {
  std::string_view name;
  bool control;
  bool (*act)(TextField& field); ///< False where it leads out of the field.
};

template <void (TextField::*step)()> bool done(TextField& field) {
  return (field.*step)(), true;
}

template <bool (TextField::*step)()> bool tried(TextField& field) {
  return (field.*step)(), true;
}

constexpr std::array keys{
    FieldKey{"Left", false, done<&TextField::left>},
    FieldKey{"Left", true, done<&TextField::word_left>},
    FieldKey{"Right", false, done<&TextField::right>},
    FieldKey{"Right", true, done<&TextField::word_right>},
    FieldKey{"Home", false, done<&TextField::line_start>},
    FieldKey{"End", false, done<&TextField::line_end>},
    FieldKey{"Up", false, [](TextField& field) { return field.up(); }},
    FieldKey{"Down", false, [](TextField& field) { return field.down(); }},
    FieldKey{"Backspace", false, done<&TextField::erase_before>},
    FieldKey{"Backspace", true, done<&TextField::erase_word>},
    FieldKey{"Delete", false, done<&TextField::erase_after>},
    FieldKey{"Y", true, tried<&TextField::redo>},
};

bool is_sign(std::string_view text) {
  return !text.empty() && static_cast<unsigned char>(text.front()) >= ' ' && text != "\x7f";
}

} // namespace

bool types(const render::KeyPress& press) {
  if (press.control || press.alt)
    return false;
  const auto& name = press.name;
  const bool one_sign = name.size() == 1 || (!name.empty() && (name.front() & 0x80) != 0);
  return one_sign || is_sign(press.text);
}

bool press_in(TextField& field, const render::KeyPress& press) {
  if (types(press))
    return field.insert(is_sign(press.text) ? press.text : ""), true;
  if (press.alt)
    return false;
  if (press.control && press.name == "Z")
    return (press.shift ? field.redo() : field.undo()), true;
  if (press.name == "Return" && !press.control && field.many_lines())
    return field.insert("\n"), true;
  for (const auto& key : keys)
    if (key.name == press.name && key.control == press.control)
      return key.act(field);
  return false;
}

void scroll_in(TextField& field, int steps) {
  for (; steps > 0 && field.up(); --steps) {
  }
  for (; steps < 0 && field.down(); ++steps) {
  }
}

std::optional<int> fields_on(const TextField& field, const render::KeyPress& press) {
  const auto& name = press.name;
  if (press.control || press.alt || name == "Escape" || (name.size() > 1 && name.front() == 'F'))
    return std::nullopt;
  if (name == "Tab")
    return press.shift ? -1 : 1;
  if (name == "Up")
    return -1;
  return !field.many_lines() && (name == "Return" || name == "Down") ? 1 : 0;
}

} // namespace landfall::app
