#include "app/scene_form.hpp"

#include "app/field_keys.hpp"
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
  if (press.control && (press.name == "S" || press.name == "Return"))
    return keep(), true;
  if (press_in(fields_[focus_], press))
    return true;
  const auto steps = fields_on(fields_[focus_], press);
  return steps && (next_field(*steps), true);
}

void SceneForm::type(std::string_view text) {
  fields_[focus_].insert(text);
}

void SceneForm::click(const render::Hit& hit, render::MouseButton) {
  const auto* field = std::get_if<render::HitField>(&hit);
  if (field == nullptr || field->index < 0 || static_cast<std::size_t>(field->index) >= count)
    return;
  focus_ = static_cast<std::size_t>(field->index);
  fields_[focus_].to(field->caret);
}

void SceneForm::scroll(int steps) {
  scroll_in(fields_[focus_], steps);
}

} // namespace landfall::app
