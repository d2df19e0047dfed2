#include "app/notes_window.hpp"

#include "render/hit.hpp"
#include "render/layout.hpp"

namespace landfall::app {
namespace {

constexpr const char* controls = "PageDown and PageUp step, a click jumps. Space starts and stops, "
                                 "F4 holds, F10 takes the chalk.";

} // namespace

ChoiceList notes_list(const practice::Lesson& lesson, std::size_t at) {
  const auto& scenes = lesson.scenes;
  const auto& present = scenes[at];
  ChoiceList list;
  list.title =
      std::to_string(at + 1) + " of " + std::to_string(scenes.size()) + " · " + present.name;
  if (!present.say.empty())
    list.lines.push_back("“" + present.say + "”");
  list.lines.insert(list.lines.end(), present.notes.begin(), present.notes.end());
  for (std::size_t i = 0; i < scenes.size(); ++i) {
    ChoiceList::Item item;
    item.text = scenes[i].name;
    item.value = std::to_string(i);
    item.chosen = i == at;
    if (i == at + 1 || (i == at && at + 1 == scenes.size())) {
      list.selected = static_cast<int>(i);
      item.preview.push_back(i == at ? "The last scene" : "Next: " + scenes[i].name);
      if (i != at) {
        item.preview.push_back(scenes[i].say);
        item.preview.insert(item.preview.end(), scenes[i].notes.begin(), scenes[i].notes.end());
      }
      item.preview.insert(item.preview.end(), {"", controls});
    }
    list.items.push_back(std::move(item));
  }
  return list;
}

void NotesWindow::show(const practice::Lesson* lesson, Shown shown) {
  if (shown_ == shown && size_ == window_->size())
    return;
  frame_ = {};
  frame_.theme = shown.theme;
  frame_.text_scale = shown.text_scale;
  frame_.status = shown.status;
  if (lesson != nullptr && shown.scene < lesson->scenes.size()) {
    auto list = notes_list(*lesson, shown.scene);
    if (!shown.beat.empty())
      list.lines.insert(list.lines.begin(), shown.beat);
    frame_.page = list.page();
  } else {
    render::ListPage page;
    page.title = "Your notes";
    page.lines = {"No lesson is open. Y opens one."};
    frame_.page = page;
  }
  size_ = window_->size();
  shown_ = std::move(shown);
  window_->present(render::layout(frame_, size_, window_->fonts()));
}

NotesWindow::Asked NotesWindow::take_inputs() {
  Asked asked;
  for (const auto& input : window_->events(std::chrono::milliseconds(0))) {
    if (std::holds_alternative<render::CloseAsked>(input))
      asked.closes = true;
    if (std::holds_alternative<render::Exposed>(input))
      shown_.reset();
    if (const auto* press = std::get_if<render::MousePress>(&input)) {
      const auto hit = render::hit(frame_, window_->size(), window_->fonts(), press->at);
      if (const auto* row = std::get_if<render::HitRow>(&hit))
        asked.scene = static_cast<std::size_t>(row->index);
      asked.closes = asked.closes || std::holds_alternative<render::HitClose>(hit);
    }
  }
  return asked;
}

} // namespace landfall::app
