#include "app/scene_form.hpp"

#include "theory/words.hpp"

namespace landfall::app {
namespace {

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const auto& line : lines)
    text += (text.empty() ? "" : "\n") + line;
  return text;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines(1);
  for (const char c : text)
    if (c == '\n')
      lines.emplace_back();
    else
      lines.back() += c;
  return lines;
}

} // namespace

SceneForm::SceneForm(std::string title, const SceneWords& words, Calls calls)
    : title_(std::move(title)), fields_{TextField(words.lesson), TextField(words.name),
                                        TextField(words.say), TextField(joined(words.notes), true)},
      calls_(std::move(calls)) {}

void SceneForm::show(FrameInput& input) {
  render::EditPage page;
  page.title = title_;
  const std::array<const char*, notes> labels{"lesson", "scene", "line to say"};
  const std::array<const char*, notes> hints{"its title", "a few words", "what the class reads"};
  for (std::size_t i = 0; i < notes; ++i)
    page.fields.push_back({labels[i], fields_[i].text(), hints[i],
                           focus_ == i ? std::optional(fields_[i].caret()) : std::nullopt});
  page.lines = lines_of(fields_[notes].text());
  page.lines_hint = "notes that only you see";
  if (focus_ == notes)
    page.caret = {fields_[notes].line(), fields_[notes].line_before_caret().size()};
  input.page = std::move(page);
  input.scene.reset();
  input.hints = "Tab next field  Escape leaves it  Ctrl+S keeps the scene";
}

SceneWords SceneForm::words() const {
  const auto text = [&](std::size_t field) { return std::string(trimmed(fields_[field].text())); };
  SceneWords words{text(lesson), text(name), text(line), {}};
  for (const auto& note : lines_of(fields_[notes].text()))
    if (const auto bare = trimmed(note); !bare.empty())
      words.notes.emplace_back(bare);
  return words;
}

void SceneForm::keep() {
  const auto typed = words();
  const auto missing = typed.lesson.empty() ? lesson : typed.name.empty() ? name : count;
  if (missing != count) {
    focus_ = missing;
    return calls_.say(missing == lesson ? "what is the lesson called?"
                                        : "what is the scene called?");
  }
  if (calls_.keep(typed))
    close();
}

void SceneForm::next_field(int steps) {
  focus_ = (focus_ + count + static_cast<std::size_t>(steps + static_cast<int>(count))) % count;
}

bool SceneForm::press(const render::KeyPress& press) {
  if (press.name == "Escape" || press.alt || press.name == "F1" || press.name == "F11")
    return false;
  if (press_command(press) || move_caret(press))
    return true;
  if (press.control)
    return false;
  if (!press.text.empty())
    fields_[focus_].insert(press.text);
  return press.name.size() == 1 || !press.text.empty() || !press.name.starts_with('F');
}

bool SceneForm::press_command(const render::KeyPress& press) {
  auto& field = fields_[focus_];
  const auto is = [&](std::string_view key, bool control) {
    return press.name == key && press.control == control;
  };
  if (is("S", true) || is("Return", true))
    return keep(), true;
  if (is("Z", true))
    return (press.shift ? field.redo() : field.undo()), true;
  if (is("Y", true))
    return field.redo(), true;
  if (is("Backspace", true))
    return field.erase_word(), true;
  if (is("Backspace", false))
    return field.erase_before(), true;
  if (is("Delete", false))
    return field.erase_after(), true;
  if (is("Tab", false))
    return next_field(press.shift ? -1 : 1), true;
  if (!is("Return", false))
    return false;
  if (field.many_lines())
    field.insert("\n");
  else
    next_field(1);
  return true;
}

bool SceneForm::move_caret(const render::KeyPress& press) {
  auto& field = fields_[focus_];
  if (press.name == "Left")
    return (press.control ? field.word_left() : field.left()), true;
  if (press.name == "Right")
    return (press.control ? field.word_right() : field.right()), true;
  if (press.name == "Home")
    return field.line_start(), true;
  if (press.name == "End")
    return field.line_end(), true;
  if (press.name == "Up")
    return field.up() || (next_field(-1), true);
  if (press.name == "Down")
    return field.down() || (next_field(1), true);
  return false;
}

void SceneForm::type(std::string_view text) {
  fields_[focus_].insert(text);
}

void SceneForm::click(const render::Hit& hit, int) {
  if (const auto* row = std::get_if<render::HitRow>(&hit))
    if (row->index >= 0 && row->index < static_cast<int>(count))
      focus_ = static_cast<std::size_t>(row->index);
}

} // namespace landfall::app
