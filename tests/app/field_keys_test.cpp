#include "app/field_keys.hpp"
#include "app/moves_page.hpp"
#include "app/pages.hpp"
#include "app/scene_form.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

namespace {

render::KeyPress key(const char* name, const char* text = "", bool control = false,
                     bool shift = false) {
  render::KeyPress press;
  press.name = name;
  press.text = text;
  press.control = control;
  press.shift = shift;
  return press;
}

ChoiceList three() {
  ChoiceList list;
  list.has_query = true;
  list.items = {{"Heading", "", "", {}, false},
                {"Rope", "", "rope", {}, false},
                {"Paraffin", "", "paraffin", {}, false}};
  list.selected = 1;
  return list;
}

const render::EditPage& edit_page(FrameInput& input, Page& page) {
  page.show(input);
  return std::get<render::EditPage>(input.page);
}

} // namespace

TEST_CASE("every key of a field moves, types and erases as it says") {
  TextField field("one two");
  CHECK(press_in(field, key("Left", "", true)));
  CHECK(field.caret() == 4);
  CHECK(press_in(field, key("Left")));
  CHECK(press_in(field, key("Backspace", "\b")));
  CHECK(field.text() == "on two");
  CHECK(press_in(field, key("Home")));
  CHECK(press_in(field, key("Delete", "\x7f")));
  CHECK(field.text() == "n two");
  CHECK(press_in(field, key("End")));
  CHECK(press_in(field, key("Backspace", "", true)));
  CHECK(field.text() == "n ");
  CHECK(press_in(field, key("E", "é")));
  CHECK(field.text() == "n é");
  CHECK(press_in(field, key("Z", "", true)));
  CHECK(field.text() == "n ");
  CHECK(press_in(field, key("Z", "", true, true)));
  CHECK(field.text() == "n é");
}

TEST_CASE("a dead key types nothing and is no command; a key with Ctrl or Alt is not the field's") {
  TextField field;
  CHECK(press_in(field, key("'")));
  CHECK(press_in(field, key("´")));
  CHECK(field.text().empty());
  CHECK_FALSE(press_in(field, key("S", "", true)));
  auto alt = key("S", "s");
  alt.alt = true;
  CHECK_FALSE(press_in(field, alt));
  CHECK_FALSE(press_in(field, key("Escape", "\x1b")));
  CHECK_FALSE(press_in(field, key("F5")));
}

TEST_CASE("Return breaks lines only where there are lines, and leads on elsewhere") {
  TextField line("A"), lines("A", true);
  CHECK_FALSE(press_in(line, key("Return", "\r")));
  CHECK(fields_on(line, key("Return")) == 1);
  CHECK(press_in(lines, key("Return", "\r")));
  CHECK(lines.text() == "A\n");
  CHECK(press_in(lines, key("Up")));
  CHECK_FALSE(press_in(lines, key("Up")));
  CHECK(fields_on(lines, key("Up")) == -1);
  CHECK(fields_on(lines, key("Down")) == 0);
  CHECK(fields_on(line, key("Tab", "", false, true)) == -1);
  CHECK(fields_on(line, key("PageDown")) == 0);
  scroll_in(lines, -3);
  CHECK(lines.line() == 1);
  scroll_in(lines, 1);
  CHECK(lines.line() == 0);
  CHECK_FALSE(fields_on(line, key("F1")));
  CHECK_FALSE(fields_on(line, key("Escape")));
  CHECK_FALSE(fields_on(line, key("Q", "", true)));
}

TEST_CASE("a list's query has a caret, and what does nothing to it is the list's or the page's") {
  auto list = three();
  CHECK_FALSE(list.press(key("Left"))); // of an empty query
  CHECK_FALSE(list.press(key("Delete")));
  CHECK(list.press(key("Backspace")));
  CHECK_FALSE(list.press(key("Space", " "))); // starts and stops the band
  for (const char* letter : {"o", "p", "e"})
    CHECK(list.press(key("X", letter)));
  CHECK(list.value() == "rope");
  CHECK(list.press(key("Home")));
  CHECK(list.press(key("R", "r")));
  CHECK(list.query.text() == "rope");
  CHECK(list.page().query_caret == 1);
  CHECK(list.press(key("Delete")));
  CHECK(list.query.text() == "rpe");
  CHECK(list.value().empty());
  CHECK(list.press(key("Z", "", true)));
  CHECK(list.value() == "rope");
  CHECK(list.press(key("End")));
  CHECK_FALSE(list.press(key("Delete"))); // takes out the row, where a page knows that
  CHECK_FALSE(list.press(key("Return")));
}

TEST_CASE("one click chooses a row, the right button only gives it the focus, headings nothing") {
  std::string chosen;
  ListView view(three(), [&](const std::string& value) { chosen = value; });
  view.click(render::HitRow{2}, render::MouseButton::right);
  CHECK(view.list.value() == "paraffin");
  CHECK(chosen.empty());
  view.click(render::HitRow{0}, render::MouseButton::left);
  view.click(render::HitRow{7}, render::MouseButton::left);
  view.click(render::HitPage{}, render::MouseButton::left);
  CHECK(chosen.empty());
  view.click(render::HitRow{1}, render::MouseButton::left);
  CHECK(chosen == "rope");
  view.click(render::HitRow{1, 1}, render::MouseButton::left);
  CHECK(view.list.page().first == 1);
  view.scroll(-1);
  CHECK_FALSE(view.list.page().first);
  view.type("para");
  view.click(render::HitField{0, 1}, render::MouseButton::left);
  view.type("x");
  CHECK(view.list.query.text() == "pxara");
}

TEST_CASE("a form's field takes a click at its character, Tab leads round and Down never loops") {
  SceneForm form("A scene", {"Ropes", "First", "", {"one", "two"}}, {});
  FrameInput input;
  form.click(render::HitField{0, 2}, render::MouseButton::left);
  form.type("!");
  CHECK(edit_page(input, form).fields[0].text == "Ro!pes");
  for (int i = 0; i < 8; ++i)
    form.press(key("Down"));
  CHECK(edit_page(input, form).caret->line == 1);
  form.press(key("Tab"));
  CHECK(edit_page(input, form).fields[0].caret.has_value());
  form.press(key("Tab", "", false, true));
  CHECK(edit_page(input, form).caret.has_value());
  form.click(render::HitField{9, 0}, render::MouseButton::left);
  CHECK(edit_page(input, form).caret.has_value());
}

TEST_CASE("help scrolls by wheel and keys, as far as there is more and no further") {
  HelpView help([] { return 10; });
  FrameInput input;
  const auto scroll = [&] {
    help.show(input);
    return std::get<render::HelpPage>(input.page).scroll;
  };
  CHECK(help.press(key("PageDown")));
  CHECK(scroll() == 8);
  help.scroll(-5);
  CHECK(scroll() == 10);
  help.scroll(1);
  CHECK(scroll() == 9);
  CHECK(help.press(key("Home")));
  CHECK(help.press(key("Up")));
  CHECK(scroll() == 0);
  CHECK(help.press(key("End")));
  CHECK(scroll() == 10);
  CHECK_FALSE(help.press(key("Space", " ")));
  help.click(render::HitPage{}, render::MouseButton::left);
  CHECK_FALSE(help.closed());
  help.click(render::HitHint{"]  Right", 0}, render::MouseButton::left);
  CHECK(help.closed());
}
